// How the page stands, in words that can be kept or sent: where the eye is, and what is switched otherwise than at first.
const PAUSE = 250; // ms without a change before they are written
const afterPause = (act) => {
  let timer = 0;
  return () => {
    clearTimeout(timer);
    timer = setTimeout(act, PAUSE);
  };
};
const rounded = (value, digits) => String(Number(value.toFixed(digits)));

const lookInWords = () => {
  const told = new URLSearchParams();
  const turn = ((camera.turn / degrees) % 360 + 360) % 360;
  told.set("turn", rounded(turn, 1));
  told.set("rise", rounded(camera.rise / degrees, 1));
  if (camera.zoom !== 1) told.set("zoom", rounded(camera.zoom, 3));
  if (camera.shift.some(Boolean)) told.set("shift", camera.shift.map((value) => rounded(value, 4)).join(","));
  if (dressing.to !== OPENING_STAGE) told.set("stage", dressing.to);
  const turned = boxes.filter((box) => box.checked !== box.defaultChecked).map((box) => box.dataset.part);
  if (turned.length) told.set("switched", turned.join(","));
  if (opaqueSkirt && opaqueSkirt.checked) told.set("skirt", "opaque");
  if (!marksOn.checked) told.set("lengths", "off");
  if (pullsOn && pullsOn.checked) told.set("pulls", "on");
  return String(told);
};
const number = (text, low, high, otherwise) => {
  const value = text === null || text.trim() === "" ? NaN : Number(text);
  return Number.isFinite(value) ? within(value, low, high) : otherwise;
};
// What cannot be read is left as the page opens.
const takeUp = (words) => {
  const told = new URLSearchParams(words);
  camera.turn = number(told.get("turn"), -3600, 3600, OPENING_VIEW.turn) * degrees;
  camera.rise = number(told.get("rise"), -20, 90, OPENING_VIEW.rise) * degrees;
  camera.zoom = number(told.get("zoom"), 0.3, 12, 1);
  const shift = (told.get("shift") || "").split(",");
  camera.shift = [0, 1].map((axis) => number(shift[axis] ?? null, -10, 10, 0));
  const turned = new Set((told.get("switched") || "").split(","));
  for (const box of boxes) box.checked = box.defaultChecked !== turned.has(box.dataset.part);
  if (opaqueSkirt) opaqueSkirt.checked = told.get("skirt") === "opaque";
  marksOn.checked = told.get("lengths") !== "off";
  if (pullsOn) pullsOn.checked = told.get("pulls") === "on";
  frameAll();
  refreshParts();
  dress(data.stages.includes(told.get("stage")) ? told.get("stage") : OPENING_STAGE, true);
};
