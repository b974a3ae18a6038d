// A measure between two points: clicked on the model, or chosen from the lists by their names.
const measured = document.getElementById("measured");
let lists = [...document.querySelectorAll("select[data-end]")];
const measureButton = document.getElementById("measure");

const sayMeasure = () => {
  const [a, b] = measuring.points;
  lists.forEach((list, end) => {
    const point = measuring.points[end];
    list.value = point && point.known ? `${measuring.view}:${point.name}` : "";
  });
  if (!a) {
    measured.textContent = measuring.on ? "Click the first point." : "";
  } else if (!b) {
    measured.textContent = `From ${a.name}. Click the second point.`;
  } else {
    const [across, deep, tall] = a.place.map((value, axis) => b.place[axis] - value);
    measured.textContent = `From ${a.name} to ${b.name}: straight ${lengthWords(Math.hypot(across, deep, tall))}; `
      + `side to side ${lengthWords(across)}, front to back ${lengthWords(deep)}, in height ${lengthWords(tall)}.`;
  }
};
const drawMeasure = (overlay, screen) => {
  const ends = measuring.points.map((point) => screen(point.place));
  if (ends.length === 2) {
    const [[x1, y1], [x2, y2]] = ends;
    overlay.append(svg("line", {x1, y1, x2, y2, class: "measure"}));
    const straight = Math.hypot(...measuring.points[0].place.map((value, axis) => measuring.points[1].place[axis] - value));
    overlay.append(svg("text", {x: (x1 + x2) / 2, y: (y1 + y2) / 2 - 8, "text-anchor": "middle", class: "said"},
      lengthWords(straight)));
  }
  for (const [x, y] of ends) overlay.append(svg("circle", {cx: x, cy: y, r: 5, class: "measure-end"}));
};
const clearMeasure = () => {
  measuring.points = [];
  sayMeasure();
  redraw();
};
const measureOnOff = (on) => {
  measuring.on = on;
  measureButton.setAttribute("aria-pressed", String(on));
  document.body.classList.toggle("measuring", on);
  clearMeasure();
};
const clickAt = (view, x, y) => {
  const found = pick(view, ownStage(view.cage, dressing.to), x, y);
  if (!found) {
    measured.textContent = "No part of the cage lies there.";
    return;
  }
  if (measuring.points.length === 2 || measuring.view !== view.number) measuring.points = [];
  measuring.view = view.number;
  measuring.points.push(found);
  sayMeasure();
  redraw();
};
// The point of a list's choice 'cage number:name', where that cage stands now.
const chosenPoint = (written) => {
  const [number, name] = [Number(written.split(":")[0]), written.slice(written.indexOf(":") + 1)];
  const cage = data.cages[number];
  const at = cage.names.findIndex((point) => point.name === name);
  return {view: number, place: cage.stages[ownStage(cage, dressing.to)].points[at], name, known: true};
};
const choose = (end) => {
  const chosen = lists.map((list) => (list.value ? chosenPoint(list.value) : null));
  const one = chosen[end];
  const other = chosen[1 - end];
  measuring.view = one ? one.view : measuring.view;
  const kept = one && other && one.view === other.view ? (end ? [other, one] : [one, other]) : [one].filter(Boolean);
  measuring.points = kept;
  sayMeasure();
  redraw();
};
const followStage = () => { // named points go with the cage, others are left behind
  measuring.points = measuring.points.every((point) => point.known)
    ? measuring.points.map((point) => chosenPoint(`${measuring.view}:${point.name}`)) : [];
  sayMeasure();
};
const hearLists = () => lists.forEach((list, end) => list.addEventListener("change", () => choose(end)));
const startMeasuring = () => {
  measureButton.addEventListener("click", () => measureOnOff(!measuring.on));
  hearLists();
};
