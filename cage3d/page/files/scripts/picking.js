// Which place of a cage lies under a click.
const CATCHES = 12; // px within which a named point is taken
// px that a hoop's outermost points go before its tapes: near the edge of a hoop, as the eye sees it, a tape that
// is nearer to the eye may stand further out than the place where the hoop truly reaches furthest.
const OUTERMOST_FIRST = 9;
const LINE_CATCHES = 7; // px within which the middle of a hoop is taken

// Distance along a ray to a triangle, or Infinity (Moeller and Trumbore 1997, doi 10.1080/10867651.1997.10487468).
const distanceToTriangle = (eye, ray, a, b, c) => {
  const [e, f] = [[b[0] - a[0], b[1] - a[1], b[2] - a[2]], [c[0] - a[0], c[1] - a[1], c[2] - a[2]]];
  const p = [ray[1] * f[2] - ray[2] * f[1], ray[2] * f[0] - ray[0] * f[2], ray[0] * f[1] - ray[1] * f[0]];
  const det = dot(e, p);
  if (Math.abs(det) < 1e-14) return Infinity;
  const t = [eye[0] - a[0], eye[1] - a[1], eye[2] - a[2]];
  const u = dot(t, p) / det;
  if (u < 0 || u > 1) return Infinity;
  const q = [t[1] * e[2] - t[2] * e[1], t[2] * e[0] - t[0] * e[2], t[0] * e[1] - t[1] * e[0]];
  const v = dot(ray, q) / det;
  if (v < 0 || u + v > 1) return Infinity;
  const along = dot(f, q) / det;
  return along > 0 ? along : Infinity;
};
const nearestAlong = (parts, stage, eye, ray) => {
  let best = {along: Infinity, part: null};
  for (const part of parts) {
    if (opacityOf(part) < 1) continue; // one clicks through a veil
    const count = shapeOf(part, stage).positions.length / 4;
    const places = Array.from({length: count}, (_, number) => vertexAt(part, number, stage, stage, 0));
    for (let i = 0; i < part.corners.length; i += 3) {
      const [a, b, c] = [part.corners[i], part.corners[i + 1], part.corners[i + 2]];
      const along = distanceToTriangle(eye, ray, places[a], places[b], places[c]);
      if (along < best.along) best = {along, part};
    }
  }
  return best;
};
const HIDDEN_BY = 0.02; // m that another part lies before a point which it hides
const HIDING = ["form", "wearer", "skirt", "cloth", "floor"]; // between steels and tapes one sees through
const near = (place, other) => Math.hypot(place[0] - other[0], place[1] - other[1]);

const rank = (point) => point.off - (point.outermost ? OUTERMOST_FIRST : 0);

// {place, name} under a click at (x, y) in CSS pixels of the canvas, or null.
const pick = (view, stage, x, y) => {
  const {screen, eye, ray} = view.look();
  const shown = view.shown();
  const hiding = shown.filter((part) => HIDING.includes(part.group));
  const inSight = (place) => {
    const towards = place.map((value, axis) => value - eye[axis]);
    const far = Math.hypot(...towards);
    return nearestAlong(hiding, stage, eye, towards.map((value) => value / far)).along > far - HIDDEN_BY;
  };
  const isShown = (hoop) => shown.some((part) => part.group === "hoops" && part.number === hoop);
  const named = view.cage.stages[stage].points
    .map((place, i) => ({place, ...data.cages[view.number].names[i]}))
    .filter((point) => isShown(point.hoop))
    .map((point) => ({...point, off: near(screen(point.place), [x, y])}))
    .filter((point) => point.off <= CATCHES)
    .sort((a, b) => rank(a) - rank(b))
    .find((point) => inSight(point.place));
  if (named) return {place: named.place, name: named.name, known: true};
  const onHoop = nearestOnHoops(view, stage, screen, [x, y], isShown);
  if (onHoop && inSight(onHoop.place)) return onHoop;
  const direction = ray(x, y);
  const hit = nearestAlong(shown, stage, eye, direction);
  if (!hit.part) return null;
  return {place: eye.map((value, axis) => value + hit.along * direction[axis]), name: `a place on the ${hit.part.name}`};
};
const nearestOnHoops = (view, stage, screen, at, isShown) => {
  let best = {off: LINE_CATCHES, place: null};
  for (const label of view.cage.stages[stage].labels) {
    if (label.group !== "hoops" || !isShown(label.number)) continue;
    label.path.slice(1).forEach((end, i) => {
      const start = label.path[i];
      const [a, b] = [screen(start), screen(end)];
      const long = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2;
      const along = ((at[0] - a[0]) * (b[0] - a[0]) + (at[1] - a[1]) * (b[1] - a[1])) / Math.max(long, 1e-9);
      const share = within(along, 0, 1);
      const off = near([a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])], at);
      if (off >= best.off) return;
      const place = start.map((value, axis) => value + share * (end[axis] - value));
      best = {off, place, name: `a place on hoop ${label.number}`};
    });
  }
  return best.place && best;
};
