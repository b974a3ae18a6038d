// Lengths beside the cage, and the ruler: an SVG drawing over the canvas.
const svg = (name, attributes, text) => {
  const made = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (text !== undefined) made.textContent = text;
  return made;
};
// Labels stand in a column and never on each other: pushed down from the top, then up from the bottom.
const spread = (labels, step, top, bottom) => {
  labels.sort((a, b) => a.y - b.y);
  labels.forEach((label, i) => {
    label.y = Math.max(label.y, i ? labels[i - 1].y + Math.max(step(label), step(labels[i - 1])) : top);
  });
  let limit = bottom;
  for (const label of labels.slice().reverse()) {
    label.y = Math.min(label.y, limit);
    limit = label.y - step(label);
  }
};
const drawBadge = (overlay, [x, y], text) => {
  overlay.append(svg("circle", {cx: x, cy: y, r: 9, class: "badge"}));
  overlay.append(svg("text", {x, y: y + 4, class: "number"}, text));
};
// Places of the numbers at the ends of tapes: out of the cage and down from there, where they stand neither on each
// other nor on a leader nor on words, given as boxes; one that finds no such place is left out.
const BADGE_STEPS = [13, 22, 31]; // px
const placedBadges = (badges, leaders, taken) => {
  const middle = [0, 1].map((axis) => badges.reduce((sum, {at}) => sum + at[axis], 0) / badges.length);
  const around = Math.max(1, ...badges.map(({at}) => Math.hypot(at[0] - middle[0], at[1] - middle[1])));
  const placed = [];
  for (const {at, text} of badges) {
    const aside = [(at[0] - middle[0]) / around, (at[1] - middle[1]) / around + Math.cos(camera.rise)];
    const long = Math.max(Math.hypot(...aside), 1e-6);
    const isClear = (place) => placed.every((other) => Math.hypot(place[0] - other.place[0], place[1] - other.place[1]) > 19)
      && leaders.every((line) => line.slice(1).every((end, i) => offLine(place, line[i], end) > 12))
      && taken.every(([left, top, right, low]) => Math.hypot(place[0] - within(place[0], left, right), place[1] - within(place[1], top, low)) > 10);
    const place = BADGE_STEPS.map((step) => at.map((value, axis) => value + step * aside[axis] / long)).find(isClear);
    if (place) placed.push({place, text});
  }
  return placed;
};
const offLine = ([x, y], [ax, ay], [bx, by]) => {
  const [dx, dy] = [bx - ax, by - ay];
  const share = within(((x - ax) * dx + (y - ay) * dy) / Math.max(dx * dx + dy * dy, 1e-9), 0, 1);
  return Math.hypot(x - ax - share * dx, y - ay - share * dy);
};
const drawLabels = (overlay, labels, screen, wide, high, taken) => {
  const columns = {1: [], "-1": []};
  const [narrow, roomy] = [wide < NARROW, wide >= ROOMY];
  const [badges, leaders] = [[], []];
  for (const label of labels) {
    if (narrow && label.side < 0) continue;
    const points = label.path.map(screen);
    if (label.side === 0) {
      badges.push({at: points[0], text: label.text});
      continue;
    }
    // At the right the rightmost place; at the left the one furthest from her axis, where her form hides it least.
    const axis = screen([0, 0, label.path[0][2]])[0];
    const out = (p) => (label.side > 0 ? p[0] : Math.abs(p[0] - axis));
    const from = points.reduce((best, p) => (out(p) > out(best) + 1e-6 ? p : best));
    columns[label.side].push({...label, from, y: from[1]});
  }
  for (const side of [1, -1]) {
    const column = columns[side];
    // The second lines go where they would push a label out of the frame.
    const second = roomy && column.length * 38 < high - 70;
    spread(column, (label) => (label.more && second ? 38 : 21), 24, high - 46);
    const edge = side > 0 ? wide - columnWidth(1, wide) : columnWidth(-1, wide);
    for (const label of column) {
      const leader = [label.from, [edge - side * 10, label.y], [edge, label.y]];
      leaders.push(leader);
      overlay.append(svg("polyline", {points: leader.join(" "), class: "leader"}));
      overlay.append(svg("circle", {cx: label.from[0], cy: label.from[1], r: 2.5, class: "dot"}));
      const anchor = side > 0 ? "start" : "end";
      const words = narrow || (!roomy && label.side < 0) ? label.short : label.text;
      overlay.append(svg("text", {x: edge + side * 5, y: label.y + 4, "text-anchor": anchor, class: "said"}, words));
      if (!label.more || !second) continue;
      overlay.append(svg("text", {x: edge + side * 5, y: label.y + 19, "text-anchor": anchor, class: "more"}, label.more));
    }
  }
  for (const {place, text} of placedBadges(badges, leaders, taken)) drawBadge(overlay, place, text);
};
const drawRuler = (overlay, perPixel, wide, high) => {
  const [left, base] = [16, high - 16];
  const wanted = Math.min(180, wide / 3) * perPixel;
  const fits = data.rulers.filter((ruler) => ruler.length <= wanted);
  const ruler = fits.length ? fits[fits.length - 1] : data.rulers[0];
  const long = ruler.length / perPixel;
  overlay.append(svg("path", {d: `M${left} ${base - 6}V${base}H${left + long}V${base - 6}`, class: "ruler"}));
  overlay.append(svg("text", {x: left, y: base - 10, class: "more"}, `${ruler.text} at the middle of the cage`));
};
