// What the page shows. Metres; x to the wearer's left, y to her back, z up, as everywhere in cage3d.
const data = JSON.parse(document.getElementById("cage-data").textContent);
const WORN = data.stages[data.stages.length - 1]; // the last stage; every part has a shape there
const OPENING_STAGE = data.opening; // the stage that the page opens with

const bytes = (text) => Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0)).buffer;
const unpackedShape = (shape) => ({
  low: shape.low,
  size: shape.size,
  positions: new Uint16Array(bytes(shape.positions)), // four a vertex, the fourth is padding
  normals: new Int8Array(bytes(shape.normals)),
});
const unpackedPart = (part) => {
  const shapes = {[WORN]: unpackedShape(part)};
  for (const [stage, shape] of Object.entries(part.stages)) shapes[stage] = unpackedShape(shape);
  return {...part, shapes, corners: new Uint32Array(bytes(part.indices)), boxed: true};
};

// The stage of a cage that stands for one that only the other cage has: the last that came before it.
const ownStage = (cage, stage) => {
  if (cage.stages[stage]) return stage;
  const earlier = data.stages.slice(0, data.stages.indexOf(stage)).filter((one) => cage.stages[one]);
  return earlier.length ? earlier[earlier.length - 1] : WORN;
};
const shapeOf = (part, stage) => part.shapes[stage] || part.shapes[WORN];

// A vertex of a part between two stages, share 0 to 1.
const vertexAt = (part, number, from, to, share) => {
  const [a, b] = [shapeOf(part, from), shapeOf(part, to)];
  return [0, 1, 2].map((axis) => {
    const at = (shape) => shape.low[axis] + shape.size[axis] * shape.positions[4 * number + axis] / 65535;
    return at(a) * (1 - share) + at(b) * share;
  });
};
