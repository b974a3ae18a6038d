// How much the frames hold: what the page opens with, and what is put on beside it, such as the wearer. All frames
// hold the same, so that two cages stand at one scale.
const FIT = 500; // ms
const framed = {...data.opened}; // low and high: heights; wide: how far from the middle; metres

const toBeFramed = () => {
  const on = Object.keys(data.putOn).filter((group) => boxes.some((box) => box.dataset.of === group && box.checked));
  const all = [data.opened, ...on.map((group) => data.putOn[group])];
  return {
    low: Math.min(...all.map((one) => one.low)),
    high: Math.max(...all.map((one) => one.high)),
    wide: Math.max(...all.map((one) => one.wide)),
  };
};
const byHand = () => camera.zoom !== 1 || camera.shift.some(Boolean);
// A view that was brought near or moved by hand stays where it is: zoom and shift say it anew from the new frame.
const keepEye = (wanted) => {
  const before = views[0].look();
  Object.assign(framed, wanted);
  Object.assign(camera, {zoom: 1, shift: [0, 0]});
  const after = views[0].look();
  const moved = before.eye.map((value, axis) => value - after.eye[axis]);
  camera.zoom = after.far / (after.far + dot(after.out, moved));
  camera.shift = [after.right, after.up].map((way) => Number(dot(way, moved).toFixed(9)));
};
let fitting = 0; // which change of the frame is the last one begun
const fitFrame = () => {
  const wanted = toBeFramed();
  const from = {...framed};
  if (Object.keys(wanted).every((key) => wanted[key] === from[key])) return;
  fitting += 1;
  if (byHand()) return keepEye(wanted);
  if (isStill()) return Object.assign(framed, wanted);
  const [mine, began] = [fitting, performance.now()];
  const step = (now) => {
    if (mine !== fitting) return;
    const share = within((now - began) / FIT, 0, 1);
    for (const key of Object.keys(wanted)) framed[key] = share < 1 ? from[key] + share * (wanted[key] - from[key]) : wanted[key];
    redraw();
    if (share < 1) requestAnimationFrame(step);
  };
  requestAnimationFrame(step);
};
// At once, for a page that opens so.
const frameAll = () => {
  fitting += 1;
  Object.assign(framed, toBeFramed());
};
