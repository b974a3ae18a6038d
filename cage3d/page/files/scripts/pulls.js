// Pull, slack and contact over the cage: heavier lines pull more, dashed ones are slack, words say how much.
const THINNEST = 1, THICKEST = 7; // px
const strongest = Math.max(1e-9, ...data.cages.flatMap((cage) =>
  Object.values(cage.stages).flatMap((stage) => stage.pulls.map((pull) => pull.pull))));

// limit: px that words end before, where the lengths beside the cage begin.
const drawPulls = (overlay, stage, screen, out, isShown, limit) => {
  const taken = []; // boxes of words that stand already
  const say = ([right, y], words, kind) => {
    const long = 7.2 * words.length;
    const x = right + long > limit ? limit - long : right; // not over the lengths beside the cage
    const box = [x, y - 14, x + long, y + 3];
    if (taken.some((other) => box[0] < other[2] && other[0] < box[2] && box[1] < other[3] && other[1] < box[3])) return;
    taken.push(box);
    overlay.append(svg("text", {x, y, class: kind}, words));
  };
  const middle = ({line}) => { // of two places, or of the many of one that bends round her
    const before = line[(line.length - 1) >> 1], after = line[line.length >> 1];
    return before.map((value, axis) => (value + after[axis]) / 2);
  };
  const lines = stage.pulls.filter(isShown);
  for (const pull of lines) {
    const points = pull.line.map((place) => screen(place).slice(0, 2).join(",")).join(" ");
    const share = pull.pull / strongest;
    const width = (THINNEST + (THICKEST - THINNEST) * share).toFixed(2);
    overlay.append(svg("polyline", {points, fill: "none", "stroke-width": width, class: pull.slack ? "slack" : "pull"}));
  }
  for (const contact of stage.contacts) {
    const [x, y] = screen(contact.place);
    overlay.append(svg("circle", {cx: x, cy: y, r: 9, class: "contact"}));
    say([x + 12, y - 10], contact.words, "pull-words contact-words");
  }
  // Slack first, then the strongest; of tapes those on the near side.
  const near = lines.filter((pull) => pull.group !== "tapes" || dot(middle(pull), out) >= 0);
  near.sort((a, b) => (b.slack - a.slack) || b.pull - a.pull);
  for (const pull of near) {
    const [x, y] = screen(middle(pull));
    say([x + 6, y], pull.words, pull.slack ? "pull-words slack-words" : "pull-words");
  }
};
