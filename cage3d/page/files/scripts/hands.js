// Mouse, fingers and keys.
const turnBy = (across, up) => {
  camera.turn += across;
  camera.rise = within(camera.rise + up, -0.35, Math.PI / 2);
  redraw();
};
const zoomBy = (factor) => { camera.zoom = within(camera.zoom * factor, 0.3, 12); redraw(); };
const shiftBy = (across, up) => {
  const {perPixel} = views[0].look();
  camera.shift = [camera.shift[0] - across * perPixel, camera.shift[1] + up * perPixel];
  redraw();
};
const stand = (turn, rise) => {
  Object.assign(camera, {turn: turn * degrees, rise: rise * degrees, zoom: 1, shift: [0, 0]});
  redraw();
};
const TURN = 0.008; // radians a pixel
const STILL = 5; // px that a click may slip

const mouseOn = (view) => {
  const {canvas} = view;
  let held = null;
  let slipped = 0;
  canvas.addEventListener("pointerdown", (event) => {
    slipped = 0;
    if (event.pointerType === "touch") return; // fingers are heard below
    canvas.setPointerCapture(event.pointerId);
    held = [event.clientX, event.clientY];
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!held || event.pointerType === "touch") return;
    const [dx, dy] = [event.clientX - held[0], event.clientY - held[1]];
    held = [event.clientX, event.clientY];
    slipped += Math.hypot(dx, dy);
    if (event.shiftKey || event.buttons & 6) shiftBy(dx, dy);
    else turnBy(-dx * TURN, dy * TURN);
  });
  for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, () => { held = null; });
  canvas.addEventListener("click", (event) => {
    if (!measuring.on || slipped > STILL) return;
    const box = canvas.getBoundingClientRect();
    clickAt(view, event.clientX - box.left, event.clientY - box.top);
  });
  canvas.addEventListener("contextmenu", (event) => event.preventDefault());
  canvas.addEventListener("wheel", (event) => {
    event.preventDefault();
    zoomBy(Math.exp(-within(event.deltaY, -200, 200) * 0.0015));
  }, {passive: false});
};
// One finger scrolls the page, as everywhere; two turn and zoom. Where there is nothing to scroll one turns too.
const fingersOn = ({canvas}) => {
  let last = null;
  const told = (event) => {
    const places = [...event.touches].slice(0, 2).map((touch) => [touch.clientX, touch.clientY]);
    const middle = [0, 1].map((axis) => places.reduce((sum, place) => sum + place[axis], 0) / places.length);
    const apart = places.length > 1 ? Math.hypot(places[0][0] - places[1][0], places[0][1] - places[1][1]) : 0;
    return {count: places.length, middle, apart};
  };
  const ours = (event) => event.touches.length > 1 || Boolean(document.fullscreenElement || data.minded);
  canvas.addEventListener("touchstart", (event) => {
    last = event.touches.length ? told(event) : null;
    if (event.touches.length > 1) event.preventDefault();
  }, {passive: false});
  canvas.addEventListener("touchmove", (event) => {
    if (!ours(event)) return;
    if (event.cancelable) event.preventDefault();
    const now = told(event);
    if (last && last.count === now.count) {
      turnBy(-(now.middle[0] - last.middle[0]) * TURN, (now.middle[1] - last.middle[1]) * TURN);
      if (last.apart && now.apart) zoomBy(now.apart / last.apart);
    }
    last = now;
  }, {passive: false});
  for (const end of ["touchend", "touchcancel"]) {
    canvas.addEventListener(end, (event) => { last = event.touches.length ? told(event) : null; });
  }
};
const viewButtons = [...document.querySelectorAll("button[data-turn]")];
const standBy = (button) => stand(Number(button.dataset.turn), Number(button.dataset.rise));
const STEP = 30; // px that a key moves
const keys = {
  ArrowLeft: () => turnBy(0.1, 0), ArrowRight: () => turnBy(-0.1, 0),
  ArrowUp: () => turnBy(0, 0.1), ArrowDown: () => turnBy(0, -0.1),
  "Shift+ArrowLeft": () => shiftBy(-STEP, 0), "Shift+ArrowRight": () => shiftBy(STEP, 0),
  "Shift+ArrowUp": () => shiftBy(0, -STEP), "Shift+ArrowDown": () => shiftBy(0, STEP),
  "+": () => zoomBy(1.15), "=": () => zoomBy(1.15), "-": () => zoomBy(1 / 1.15),
  s: () => (sliders.length ? goSteps(1) : nextStage()), ".": () => goSteps(1), ",": () => goSteps(-1),
  m: () => measureOnOff(!measuring.on), f: () => fillScreen(), Escape: () => clearMeasure(),
  l: () => marksOn.click(), p: () => pullsOn && pullsOn.click(), o: () => opaqueSkirt && opaqueSkirt.click(),
  0: () => stand(OPENING_VIEW.turn, OPENING_VIEW.rise),
};
viewButtons.forEach((button, i) => { keys[i + 1] = () => standBy(button); });
const keysOn = ({canvas}) => canvas.addEventListener("keydown", (event) => {
  const turned = event.shiftKey && event.key.startsWith("Arrow") ? `Shift+${event.key}` : event.key;
  const done = keys[turned] || keys[turned.toLowerCase()];
  if (!done || event.ctrlKey || event.metaKey || event.altKey) return;
  event.preventDefault();
  done();
});
const fillScreen = () => {
  const stage = document.querySelector(".stage");
  if (document.fullscreenElement) document.exitFullscreen();
  else if (stage.requestFullscreen) stage.requestFullscreen().catch(() => {});
};
const startHands = () => {
  for (const view of views) [mouseOn, fingersOn, keysOn].forEach((listen) => listen(view));
  for (const button of viewButtons) button.addEventListener("click", () => standBy(button));
  for (const button of document.querySelectorAll("button[data-zoom]")) {
    button.addEventListener("click", () => zoomBy(Number(button.dataset.zoom)));
  }
  const whole = document.getElementById("whole-screen");
  whole.hidden = !document.fullscreenEnabled;
  whole.addEventListener("click", fillScreen);
};
