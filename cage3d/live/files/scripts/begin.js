// The page begins: the design comes over the wire, moves go back, and what comes down is shown.
const REST = 300; // ms without a move, after which the hand rests
const LONG = 2500; // ms after which it is said that an answer takes longer
let picture = {shape() {}, words() {}, cage() {}, lines() {}, wanted() {}, differs() {}, light() {}, whole() {}, focus() {}};
let pictured = false;
let [resting, slow] = [0, 0]; // timers

// rest: at once, as after a value that was typed; else when the hand has rested.
const moved = (rest) => {
  clearTimeout(resting);
  sendMove(textsNow(), rest);
  if (!rest) resting = setTimeout(() => { sendMove(textsNow(), true); }, REST);
};
const drawFirst = (message) => {
  layFurniture(message.data);
  by("cage-data").textContent = JSON.stringify({...message.data, minded: true});
  const made = makePicture();
  if (!made.start(keptHere(LOOK, design.file), (look) => keepHere(LOOK, look))) return document.body.classList.add("draws-not");
  picture = made;
  pictured = true;
  drawLines();
};
const drawLines = () => {
  picture.lines(design.outline);
  picture.wanted(design.wanted);
  picture.differs(valuesNow().size > 0);
};
const showCage = (message) => {
  if (!message.data) return;
  if (pictured) picture.cage(message);
  else if (!by("cage-data").dataset.tried) drawFirst(message), by("cage-data").dataset.tried = "yes";
};
const open = (message) => {
  sayReadable();
  design.file = message.file;
  design.units = message.units;
  design.joined = message.joined || [];
  design.controls = new Map(message.groups.flatMap((group) => group.controls).map((control) => [control.place, control]));
  document.title = `${message.title}, fitting`;
  by("title").textContent = message.title;
  by("file").textContent = message.file;
  design.outline = message.outline || [];
  design.wanted = message.wanted || [];
  showCage(message);
  drawLines();
  beginAt();
  layGroups(message.groups);
  layAiming({...message, wanted: design.wanted});
  refreshAll();
  document.body.classList.remove("waiting");
  if (message.figures) sayFigures(message.figures);
};
const refreshAll = (places = null) => {
  if (!design.controls.size) return;
  refreshGroups(places);
  refreshChanged();
  refreshDoing();
};
// After a connection was lost what was changed goes up again; after the page was loaded again it is offered.
const takeUpAgain = (values) => {
  if (!values.size) return;
  beginAt(values, "Taken up again");
  moved(true);
};
let before = new Map();
const openedFirst = (message) => {
  Object.assign(wire, {flying: null, next: null}); // what was asked of the program before is not answered any more
  if (message.keep) before = new Map(valuesNow());
  const kept = design.controls.size || before.size ? new Map() : keptValues(message);
  open(message);
  if (before.size) takeUpAgain(new Map([...before].filter(([place]) => design.controls.has(place))));
  else if (kept.size) offerKept(new Map([...kept].filter(([place]) => design.controls.has(place))));
  before = new Map();
  forget("lost");
};
const offerKept = (values) => notice("kept",
  made("p", {}, `${counted(values.size, "value")} changed in this page before it was loaded again ${values.size > 1 ? "were" : "was"} not saved.`),
  made("p", {class: "row"}, button("Take them up again", () => { forget("kept"); takeUpAgain(values); }),
    button("Leave them", () => { forget("kept"); keepValues(); })));

// Told once a shape is drawn, with when it was asked for, so that it can be measured how old it is; and once what is
// said of it is written.
const shown = (head, move) => document.dispatchEvent(
  new CustomEvent("cage-shown", {detail: {seq: head.seq, since: move ? move.since : null}}));
const said = ({seq}) => document.dispatchEvent(new CustomEvent("cage-said", {detail: {seq}}));
Object.assign(wire.hear, {
  opened: (message) => openedFirst(message),
  unreadable: ({faults}) => sayUnreadable(faults),
  readable: sayReadable,
  shape: (head, shapes, move) => {
    accept(move);
    hangs();
    picture.shape(head, shapes);
    shown(head, move);
    if (!head.stage) return;
    saySummary(head);
    said(head);
  },
  words: (message) => {
    picture.words(message);
    saySummary(message);
    said(message);
  },
  parts: (message, move) => {
    accept(move);
    hangs();
    showCage(message);
  },
  figures: (message) => {
    picture.whole();
    sayFigures(message);
  },
  refused: sayRefused,
  "no rest": ({why, dragged}, move) => {
    accept(move);
    if (dragged) document.body.classList.add("unsure"); // few steps were taken: the hand still moves
    else noRest(why);
  },
  "still settling": ({seq, steps, usual, most}) => {
    if (seq < wire.seq) return; // of a cage that was left already
    clearTimeout(slow);
    if (pictured) document.body.classList.add("unsure"); // the picture is of the cage before
    state(`Still settling: no rest in ${steps} steps of at most ${most}; ${usual.join(" to ")} are usual`, "settling");
    announce("Still settling. It may find no rest.");
  },
  told: ({text}) => state(text),
  "changed on disk": () => onDisk(),
  failed: ({text}) => { state(text, "bad"); announce(text); },
  flying: () => {
    if (by("state").dataset.kind !== "settling") state("Settling…", "settling");
    clearTimeout(slow);
    slow = setTimeout(() => wire.flying && state("Settling; this one takes longer…", "settling"), LONG);
  },
  lost: () => {
    if (valuesNow().size) before = new Map(valuesNow());
    state("Not connected", "bad");
    notice("lost", made("p", {}, "cage3d has stopped or cannot be reached. What you changed stays here; it is taken up again when the connection comes back."));
  },
});
followers.push(refreshAll, keepValues);
[startTabs, startKeys, startAiming, startFile, startFirstUse].forEach((start) => start());
connect();
