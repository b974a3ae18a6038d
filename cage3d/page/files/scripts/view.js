// One cage in its frame: the canvas, and the drawing over it.
const makeView = (cage, number) => {
  const end = number ? `-${number + 1}` : "";
  const canvas = document.getElementById(`view${end}`);
  const overlay = document.getElementById(`marks${end}`);
  // Nothing shines through its ground, which spares the browser mixing; what is drawn is kept, so that it prints.
  const kept = {alpha: false, antialias: true, preserveDrawingBuffer: true};
  const gl = canvas.getContext("webgl2", kept) || canvas.getContext("webgl", kept);
  if (!gl) return null;
  const parts = cage.parts.map(unpackedPart);
  const solid = partsDrawer(gl, parts);
  const seen = () => look(canvas.clientWidth, canvas.clientHeight);
  const isVisible = (thing) => parts.some((part) => part.boxed && part.group === thing.group
    && (!part.number || part.number === thing.number));
  const draw = () => {
    drawSolid();
    write();
  };
  const drawSolid = () => {
    const sharp = drawn.printing ? 2 : Math.min(window.devicePixelRatio || 1, 2);
    const [wide, high] = [canvas.clientWidth, canvas.clientHeight];
    if (!wide || !high) return;
    const [width, height] = [Math.round(wide * sharp), Math.round(high * sharp)];
    if (canvas.width !== width || canvas.height !== height) [canvas.width, canvas.height] = [width, height];
    const eyed = seen();
    const stages = [dressing.from, dressing.to].map((stage) => ownStage(view.cage, stage));
    solid.draw(parts.filter((part) => part.boxed), stages, eyed, width, height);
    view.behind.forEach((lines) => lines(eyed));
  };
  // What is written over it.
  const write = () => {
    const [wide, high] = [canvas.clientWidth, canvas.clientHeight];
    if (!wide || !high) return;
    const eyed = seen();
    overlay.setAttribute("viewBox", `0 0 ${wide} ${high}`);
    overlay.replaceChildren();
    drawRuler(overlay, eyed.perPixel, wide, high);
    if (dressing.share < 1) return; // words stand still, so they wait until the cage does
    const stage = view.cage.stages[ownStage(view.cage, dressing.to)];
    const all = Boolean(pullsOn && pullsOn.checked);
    const taken = all || data.minded
      ? drawPulls(overlay, stage, eyed.screen, eyed.out, isVisible, wide - columnWidth(1, wide) - 12, all) : [];
    view.over.forEach((lines) => lines(overlay, eyed));
    // Under an opaque skirt ties and laces are not seen, nor tapes on the far side.
    const covered = opaqueSkirt && opaqueSkirt.checked && parts.some((part) => part.boxed && part.group === "skirt");
    const isSeen = ({side, path}) => !covered || side > 0
      || (side === 0 && dot([path[0][0] - data.middle[0], path[0][1] - data.middle[1], 0], eyed.out) > -1e-9);
    if (marksOn.checked) drawLabels(overlay, stage.labels.filter((label) => isVisible(label) && isSeen(label)), eyed.screen, wide, high, taken);
    if (measuring.view === number) drawMeasure(overlay, eyed.screen);
  };
  // Other shapes of the same parts, null for those that stand where they stood, and what is said of the cage then, if
  // that has come.
  const take = (shapes, stage) => {
    parts.forEach((part, i) => {
      if (!shapes[i]) return;
      part.shapes[WORN] = shapes[i];
      solid.take(part);
    });
    if (stage) view.cage.stages[WORN] = stage;
  };
  // Another cage in this one's place, made of other parts.
  const exchange = (other) => {
    parts.forEach(solid.drop);
    parts.splice(0, parts.length, ...other.parts.map(unpackedPart));
    parts.forEach(solid.take);
    data.cages[number] = view.cage = other;
  };
  canvas.addEventListener("webglcontextlost", (event) => event.preventDefault());
  canvas.addEventListener("webglcontextrestored", () => location.reload());
  new ResizeObserver(redraw).observe(canvas);
  // behind: draw lines among the parts, by WebGL; over: draw over them, in the SVG.
  const view = {cage, number, canvas, gl, parts, draw, drawSolid, write, take, exchange, behind: [], over: [], look: seen,
    shown: () => parts.filter((part) => part.boxed)};
  return view;
};
