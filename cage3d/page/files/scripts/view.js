// One cage in its frame: the canvas, and the drawing over it.
const makeView = (cage, number) => {
  const end = number ? `-${number + 1}` : "";
  const canvas = document.getElementById(`view${end}`);
  const overlay = document.getElementById(`marks${end}`);
  const kept = {antialias: true, preserveDrawingBuffer: true}; // kept, so that it prints
  const gl = canvas.getContext("webgl2", kept) || canvas.getContext("webgl", kept);
  if (!gl) return null;
  const parts = cage.parts.map(unpackedPart);
  const drawParts = partsDrawer(gl, parts);
  const seen = () => look(canvas.clientWidth, canvas.clientHeight);
  const isVisible = (thing) => parts.some((part) => part.boxed && part.group === thing.group
    && (!part.number || part.number === thing.number));
  const draw = () => {
    const sharp = drawn.printing ? 2 : Math.min(window.devicePixelRatio || 1, 2);
    const [wide, high] = [canvas.clientWidth, canvas.clientHeight];
    if (!wide || !high) return;
    const [width, height] = [Math.round(wide * sharp), Math.round(high * sharp)];
    if (canvas.width !== width || canvas.height !== height) [canvas.width, canvas.height] = [width, height];
    const eyed = seen();
    const stages = [dressing.from, dressing.to].map((stage) => ownStage(cage, stage));
    drawParts(parts.filter((part) => part.boxed), stages, eyed, width, height);
    overlay.setAttribute("viewBox", `0 0 ${wide} ${high}`);
    overlay.replaceChildren();
    drawRuler(overlay, eyed.perPixel, wide, high);
    if (dressing.share < 1) return; // words stand still, so they wait until the cage does
    const stage = cage.stages[stages[1]];
    const taken = pullsOn && pullsOn.checked
      ? drawPulls(overlay, stage, eyed.screen, eyed.out, isVisible, wide - columnWidth(1, wide) - 12) : [];
    // Under an opaque skirt ties and laces are not seen, nor tapes on the far side.
    const covered = opaqueSkirt && opaqueSkirt.checked && parts.some((part) => part.boxed && part.group === "skirt");
    const isSeen = ({side, path}) => !covered || side > 0
      || (side === 0 && dot([path[0][0] - data.middle[0], path[0][1] - data.middle[1], 0], eyed.out) > -1e-9);
    if (marksOn.checked) drawLabels(overlay, stage.labels.filter((label) => isVisible(label) && isSeen(label)), eyed.screen, wide, high, taken);
    if (measuring.view === number) drawMeasure(overlay, eyed.screen);
  };
  canvas.addEventListener("webglcontextlost", (event) => event.preventDefault());
  canvas.addEventListener("webglcontextrestored", () => location.reload());
  new ResizeObserver(redraw).observe(canvas);
  return {cage, number, canvas, parts, draw, look: seen, shown: () => parts.filter((part) => part.boxed)};
};
