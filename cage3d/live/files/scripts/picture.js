// The cage in its frame, as the page that is sent draws it; here its shapes come one after another.
const HERS = ["form", "wearer"];
const ROOM = 1.03; // how much further than the frame holds the cage may reach before the frame is made wider
let standing = []; // shapes of the parts as last sent whole
const taken = {seq: 0, lit: null, lines: [], wanted: []};

const ABOVE = 0.2; // m of her above the waistband that the frame holds at first: here the cage is looked at

// look: in words, how she looked at it before; keep: hears how she looks at it now.
const startPicture = (look, keep) => {
  const bands = data.cages[0].parts.filter((part) => part.group === "waistband");
  if (bands.length) data.opened.high = Math.max(...bands.map(({low, size}) => low[2] + size[2])) + ABOVE;
  const made = makeView(data.cages[0], 0);
  if (!made) return false;
  views.push(made);
  document.body.classList.replace("no-3d", "with-3d");
  standing = made.parts.map((part) => part.shapes[WORN]);
  made.behind.push(outlineDrawer(made));
  made.over.push(drawWanted, drawLit);
  [startSwitches, startMeasuring, startDressing, startHands].forEach((start) => start());
  for (const box of ["outline-on", "wanted-on"]) document.getElementById(box).addEventListener("change", redraw);
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", redraw);
  startPrinting();
  refreshParts();
  frameAll();
  if (look) takeUp(look);
  changed = afterPause(() => keep(lookInWords()));
  return true;
};
const takeShape = (head, shapes) => {
  const [view] = views;
  view.take(shapes.map((shape, i) => shape || (view.parts[i].shapes[WORN] === standing[i] ? null : standing[i])), head.stage);
  if (!head.stage && !waiting) return view.drawSolid(); // the words follow
  if (head.stage) minding(head.stage);
  if (head.rest) makeRoom();
  drawNow();
};
const takeWords = ({stage}) => {
  const [view] = views;
  view.cage.stages[WORN] = stage;
  minding(stage);
  view.write();
};
const minding = (stage) => {
  strongest = Math.max(strongest, strongestOf([stage]));
  pointsFollow();
};
// Another cage: other parts, or the design read anew.
const takeCage = (cage) => {
  const [view] = views;
  const off = new Set(boxes.filter((box) => !box.checked).map((box) => box.dataset.part));
  const known = new Set(boxes.map((box) => box.dataset.part));
  view.exchange(cage.data.cages[0]);
  standing = view.parts.map((part) => part.shapes[WORN]);
  strongest = strongestOf([view.cage.stages[WORN]]);
  layFurniture(cage.data);
  findSwitches();
  for (const box of boxes) if (known.has(box.dataset.part)) box.checked = !off.has(box.dataset.part);
  opaqueSkirt = document.getElementById("skirt-opaque");
  hearSwitches();
  lists = [...document.querySelectorAll("select[data-end]")];
  hearLists();
  clearMeasure();
  refreshParts();
  makeRoom();
};
// Named points go with the cage, and are read out again when the hand rests.
const pointsFollow = () => {
  if (!measuring.points.length) return;
  measuring.points = measuring.points.every((point) => point.known)
    ? measuring.points.map((point) => chosenPoint(`${measuring.view}:${point.name}`)) : [];
};
// A cage that has outgrown its frame gets a wider one; it never shrinks while she works, so that growth is seen.
const makeRoom = () => {
  const reach = {high: data.opened.high, wide: data.opened.wide};
  for (const part of views[0].parts) {
    if (!part.boxed || part.group === "floor") continue;
    const {low, size} = part.shapes[WORN];
    if (HERS.includes(part.group)) continue;
    reach.high = Math.max(reach.high, low[2] + size[2]);
    for (const axis of [0, 1]) {
      const middle = data.middle[axis];
      reach.wide = Math.max(reach.wide, middle - low[axis], low[axis] + size[axis] - middle);
    }
  }
  if (reach.high > data.opened.high * ROOM || reach.wide > data.opened.wide * ROOM) {
    Object.assign(data.opened, reach);
    fitFrame();
  }
};

const lineShader = `
  attribute vec3 place; uniform mat4 toScreen;
  void main() { gl_Position = toScreen * vec4(place, 1.0); }`;
const lineColours = `
  precision mediump float; uniform vec3 colour;
  void main() { gl_FragColor = vec4(colour, 1.0); }`;
// The design as opened, dashed, among the parts: what stands before it hides it.
const outlineDrawer = ({gl}) => {
  const program = linkedProgram(gl, lineShader, lineColours);
  const slot = gl.getAttribLocation(program, "place");
  const [toScreen, colour] = ["toScreen", "colour"].map((name) => gl.getUniformLocation(program, name));
  const held = gl.createBuffer();
  let [filled, count] = [null, 0];
  const fill = () => {
    const dashes = taken.lines.flatMap((line) => line.slice(1).flatMap((end, i) => (i % 2 ? [] : [...line[i], ...end])));
    gl.bufferData(gl.ARRAY_BUFFER, new Float32Array(dashes), gl.STATIC_DRAW);
    [filled, count] = [taken.lines, dashes.length / 3];
  };
  return ({matrix}) => {
    if (!taken.differs || !document.getElementById("outline-on").checked) return;
    gl.useProgram(program);
    gl.bindBuffer(gl.ARRAY_BUFFER, held);
    if (filled !== taken.lines) fill();
    for (const other of slotsInUse(gl)) gl.disableVertexAttribArray(other);
    gl.enableVertexAttribArray(slot);
    gl.vertexAttribPointer(slot, 3, gl.FLOAT, false, 0, 0);
    gl.disable(gl.BLEND);
    gl.uniformMatrix4fv(toScreen, false, matrix);
    gl.uniform3fv(colour, [1, 3, 5].map((at) => parseInt(ink("--outline").slice(at, at + 2), 16) / 255));
    gl.drawArrays(gl.LINES, 0, count);
  };
};
const slotsInUse = (gl) => Array.from({length: 4}, (_, slot) => slot)
  .filter((slot) => gl.getVertexAttrib(slot, gl.VERTEX_ATTRIB_ARRAY_ENABLED));
const ink = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();

const drawWanted = (overlay, {screen}) => {
  if (!document.getElementById("wanted-on").checked) return;
  let leftmost = null;
  for (const {line} of taken.wanted) {
    const places = line.map(screen);
    overlay.append(svg("polyline", {points: places.join(" "), class: "wanted"}));
    leftmost = [leftmost, ...places].filter(Boolean).reduce((best, place) => (place[0] < best[0] ? place : best));
  }
  if (!leftmost) return;
  const [x, y] = leftmost;
  overlay.append(svg("text", {x: Math.max(x - 4, 52), y: y + 4, "text-anchor": "end", class: "pull-words wanted-words"}, "wanted"));
};
// The part that the value in hand belongs to.
const drawLit = (overlay, {screen}) => {
  if (!taken.lit) return;
  const {group, number, stretch} = taken.lit;
  const stage = views[0].cage.stages[WORN];
  const own = (thing) => thing.group === group && thing.number === number;
  const lines = group === "hoops" ? stage.labels.filter(own).map((label) => label.path)
    : stage.pulls.filter(own).filter((_, i) => stretch === undefined || i === stretch).map((pull) => pull.line);
  for (const line of lines) overlay.append(svg("polyline", {points: line.map(screen).join(" "), class: "lit"}));
};
