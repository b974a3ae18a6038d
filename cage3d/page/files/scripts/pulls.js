// Pull, slack and contact over the cage: heavier lines pull more, dashed ones are slack, words say how much.
const THINNEST = 1, THICKEST = 7; // px
const LINE = 19; // px, of words one under another
const strongestOf = (stages) => Math.max(1e-9, ...stages.flatMap((stage) => stage.pulls.map((pull) => pull.pull)));
let strongest = strongestOf(data.cages.flatMap((cage) => Object.values(cage.stages)));
const LEAST_SLACK = 0.003; // m; less is not pointed out where only what should be minded is drawn

// all: every pull, else only what should be minded: slack, touch and steel bent too sharply.
// limit: px that words end before, where the lengths beside the cage begin. Returns the boxes of the words.
const drawPulls = (overlay, stage, screen, out, isShown, limit, all) => {
  const said = []; // words in the order in which they find their places
  const say = ([x, y], words, kind, lines = 0) => {
    const text = svg("text", {x, y, class: kind}, words);
    overlay.append(text);
    said.push({text, at: [x, y], lines});
  };
  const middle = ({line}) => { // of two places, or of the many of one that bends round her
    const before = line[(line.length - 1) >> 1], after = line[line.length >> 1];
    return before.map((value, axis) => (value + after[axis]) / 2);
  };
  const lines = stage.pulls.filter((pull) => isShown(pull) && (all || pull.slack > LEAST_SLACK));
  for (const pull of lines) {
    const points = pull.line.map((place) => screen(place).slice(0, 2).join(",")).join(" ");
    const share = Math.min(pull.pull / strongest, 1);
    const width = (THINNEST + (THICKEST - THINNEST) * share).toFixed(2);
    overlay.append(svg("polyline", {points, fill: "none", "stroke-width": width, class: pull.slack ? "slack" : "pull"}));
  }
  for (const contact of stage.contacts) {
    const [x, y] = screen(contact.place);
    overlay.append(svg("circle", {cx: x, cy: y, r: 9, class: "contact"}));
    say([x + 12, y - 10], contact.words, "pull-words contact-words", 12);
  }
  for (const bent of stage.bent.filter(isShown)) {
    const places = bent.line.map(screen);
    overlay.append(svg("polyline", {points: places.join(" "), class: "bent"}));
    const [x, y] = places[places.length >> 1];
    overlay.append(svg("path", {d: `M${x} ${y - 9}L${x + 8} ${y + 5}H${x - 8}Z`, class: "bent-sign"}));
    say([x + 12, y + 4], bent.words, "pull-words bent-words", 12);
  }
  // Slack first, then the strongest; of tapes those on the near side, where there are not only the few to be minded.
  const near = lines.filter((pull) => !all || !["tapes", "cloth"].includes(pull.group) || dot(middle(pull), out) >= 0);
  near.sort((a, b) => (b.slack - a.slack) || b.pull - a.pull);
  for (const pull of near) {
    const [x, y] = screen(middle(pull));
    say([x + 6, y], pull.words, pull.slack ? "pull-words slack-words" : "pull-words");
  }
  return placedWords(said, limit);
};
// Puts words where they stand in each other's way up or down by whole lines, as far as `lines`, or leaves them unsaid.
// All are measured before any is moved: a browser lays the page out anew for the first one only. Returns their boxes.
const placedWords = (said, limit) => {
  const taken = [];
  const longs = said.map(({text}) => text.getComputedTextLength() + 4);
  const place = ({text, at: [right, y], lines}, long) => {
    const x = Math.max(right + long > limit ? limit - long : right, 2); // not over the lengths beside the cage
    for (let step = 0; step <= 2 * lines; step += 1) {
      const at = y + LINE * Math.ceil(step / 2) * (step % 2 ? 1 : -1);
      const box = [x, at - 14, x + long, at + 4];
      if (taken.some((other) => box[0] < other[2] && other[0] < box[2] && box[1] < other[3] && other[1] < box[3])) continue;
      taken.push(box);
      text.setAttribute("x", x);
      text.setAttribute("y", at);
      return;
    }
    text.remove();
  };
  said.forEach((words, i) => place(words, longs[i]));
  return taken;
};
