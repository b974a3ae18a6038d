// Where the eye stands. Every view looks with the same camera at the same scale.
const OPENING = 24 * Math.PI / 180; // a long lens: little distortion, so widths look as they measure
const NARROW = 560; // px, a telephone held upright: room for the hoops' bare lengths only
const ROOMY = 760; // px, room for a second line under each length
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

// Width in pixels that labels take at the right (1) and the left (-1) of a frame.
const columnWidth = (side, wide) => {
  const any = data.cages.some((cage) => Object.values(cage.stages).some((stage) =>
    stage.labels.some((label) => label.side === side)));
  if (!marksOn.checked || !any) return 24;
  if (wide >= ROOMY) return 244;
  if (wide >= NARROW) return side > 0 ? 196 : 84;
  return side > 0 ? 84 : 12;
};

// How far off the eye stands, so that a frame holds what is to be framed. rise: of the look from above; room: what labels
// leave of the width.
const distanceFrom = (rise, half, aspect, room) => {
  const {low, high, wide} = framed;
  const tall = (high - low) / 2 * Math.cos(rise) + Math.max(wide, data.ground) * Math.abs(Math.sin(rise));
  return Math.max(tall / half, wide / (half * aspect * room)) * 1.06 + 0.4 * wide * Math.cos(rise);
};
// The share of its width at which the floor is seen whole as the page opens, on whichever side she is looked at: it tells
// where she stands, and a cage drawn smaller for its sake would tell less. aside: how far the middle lies off the frame's.
const LEAST_FLOOR = 0.5;
const floorShare = (half, aspect, room, aside) => {
  const rise = OPENING_VIEW.rise * degrees;
  const [cr, sr] = [Math.cos(rise), Math.sin(rise)];
  const [far, below] = [distanceFrom(rise, half, aspect, room) / 1.01, (framed.low + framed.high) / 2];
  const off = Math.hypot(...data.middle);
  const sides = (far + sr * below - off) * half * aspect * (1 - Math.abs(aside)) - off;
  const near = (far + sr * below - cr * below / half) / (sr / half + cr) - off;
  return data.ground ? within(Math.min(sides, near) / data.ground, LEAST_FLOOR, 1) : 1;
};

// The eye, the matrix to the screen and its inverse use, for a canvas of this size in CSS pixels.
const look = (wide, high) => {
  const {turn, rise, zoom, shift} = camera;
  const [ct, st, cr, sr] = [Math.cos(turn), Math.sin(turn), Math.cos(rise), Math.sin(rise)];
  // turn 0 stands in front of her (at -y); a quarter turn stands at her left.
  const out = [st * cr, -ct * cr, sr];
  const right = [ct, st, 0];
  const up = [-st * sr, ct * sr, cr];
  const aspect = wide / high;
  const half = Math.tan(OPENING / 2);
  // What the labels leave of the width, and how far its middle lies off that of the frame.
  const room = Math.max(0.4, 1 - (columnWidth(1, wide) + columnWidth(-1, wide)) / wide);
  const aside = (columnWidth(-1, wide) - columnWidth(1, wide)) / wide;
  const {low, high: top, wide: around} = framed;
  const far = distanceFrom(rise, half, aspect, room) / zoom;
  const centre = [...data.middle, (low + top) / 2].map((c, i) => c + right[i] * shift[0] + up[i] * shift[1]);
  const eye = centre.map((c, i) => c + out[i] * far);
  const reach = Math.hypot((top - low) / 2, around);
  const [near, end] = [Math.max(far - 4 * reach, far * 0.02), far + 4 * reach];
  const [fx, fy] = [1 / (half * aspect), 1 / half];
  const [a, b] = [-(end + near) / (end - near), -2 * end * near / (end - near)];
  const [tr, tu, to] = [-dot(right, eye), -dot(up, eye), -dot(out, eye)];
  const matrix = new Float32Array([
    fx * right[0] - aside * out[0], fy * up[0], a * out[0], -out[0],
    fx * right[1] - aside * out[1], fy * up[1], a * out[1], -out[1],
    fx * right[2] - aside * out[2], fy * up[2], a * out[2], -out[2],
    fx * tr - aside * to, fy * tu, a * to + b, -to]);
  const screen = (p) => {
    const w = matrix[3] * p[0] + matrix[7] * p[1] + matrix[11] * p[2] + matrix[15];
    const x = (matrix[0] * p[0] + matrix[4] * p[1] + matrix[8] * p[2] + matrix[12]) / w;
    const y = (matrix[1] * p[0] + matrix[5] * p[1] + matrix[9] * p[2] + matrix[13]) / w;
    return [(x + 1) / 2 * wide, (1 - y) / 2 * high];
  };
  // The direction from the eye through a place on the screen, undone from the matrix above.
  const ray = (x, y) => {
    const [ndcX, ndcY] = [2 * x / wide - 1, 1 - 2 * y / high];
    const [sideways, upwards] = [(ndcX - aside) / fx, ndcY / fy];
    return [0, 1, 2].map((i) => -out[i] + right[i] * sideways + up[i] * upwards);
  };
  return {matrix, floor: floorShare(half, aspect, room, aside), depth: a, eye, far, right, up, out, screen, ray, perPixel: 2 * far * half / high};
};
