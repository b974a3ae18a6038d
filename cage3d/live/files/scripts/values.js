// What differs from the file, and every state it was in: undo and redo are places in that list.
// A state maps the place of a value ("hoops[3].length") to {text, value}; value in SI, null where only the text is known.
// accepted: place to text, of the last move that the rules of a design let pass.
// outline and wanted: the lines to draw of the design as opened, and of what it wants.
const design = {file: "", controls: new Map(), joined: [], units: "", accepted: new Map(), outline: [], wanted: []};
const past = {states: [{values: new Map(), name: "As in the file"}], at: 0, open: false};
const followers = []; // told of every change: (by) the places changed, or null for any

const valuesNow = () => past.states[past.at].values;
const textAt = (place) => valuesNow().get(place)?.text ?? design.controls.get(place).text;
const numberAt = (place) => {
  const set = valuesNow().get(place);
  return set ? set.value : design.controls.get(place).value;
};
// As they are sent: place to text.
const textsNow = () => Object.fromEntries([...valuesNow()].map(([place, {text}]) => [place, text]));
const isAsInFile = (place, text) => text.trim() === String(design.controls.get(place).text).trim();

// changes: [place, {text, value}] each; name: what undo calls it; open: more of the same movement follows.
const change = (changes, name, open = false) => {
  const values = new Map(valuesNow());
  for (const [place, set] of changes) {
    if (isAsInFile(place, set.text)) values.delete(place);
    else values.set(place, set);
  }
  if (past.open && past.states[past.at].name === name) past.states[past.at] = {values, name};
  else {
    past.states.splice(past.at + 1, Infinity, {values, name});
    past.at += 1;
  }
  past.open = open;
  followers.forEach((follow) => follow(changes.map(([place]) => place)));
};
// What was refused is no state of the design: its values go back to those that were accepted last.
// sent: the texts of the move; faulty: the places that are at fault, all that were moved where none is named.
const takeBack = (sent, faulty) => {
  const values = new Map(valuesNow());
  const newer = Object.entries(sent).filter(([place, text]) => design.accepted.get(place) !== text);
  const named = newer.filter(([place]) => faulty.includes(place));
  for (const [place, text] of named.length ? named : newer) {
    const before = design.accepted.get(place);
    rows.get(place).held = text;
    if (before === undefined) values.delete(place);
    else values.set(place, {text: before, value: valueOf(design.controls.get(place), before)});
  }
  past.open = false;
  const earlier = past.at ? past.states[past.at - 1].values : null;
  const same = earlier && earlier.size === values.size && [...values].every(([place, {text}]) => earlier.get(place)?.text === text);
  if (same) past.states.splice(past.at, 1), past.at -= 1;
  else past.states[past.at] = {...past.states[past.at], values};
  followers.forEach((follow) => follow(null));
  return named.length > 0 && named.length < newer.length; // whether something else was moved that may stand
};
const takeTexts = (pairs, name) => {
  change(pairs.map(([place, text]) => [place, {text, value: valueOf(design.controls.get(place), text)}]), name);
  moved(true);
};
const closeChange = () => { past.open = false; };
const goTo = (at) => {
  if (at < 0 || at >= past.states.length) return;
  Object.assign(past, {at, open: false});
  followers.forEach((follow) => follow(null));
};
const putBack = (places, name) => change(places.map((place) =>
  [place, {text: design.controls.get(place).text, value: design.controls.get(place).value}]), name);
// The list begins anew at a file that was read or written.
const beginAt = (values = new Map(), name = "As in the file") => {
  Object.assign(past, {states: [{values: new Map(), name: "As in the file"}], at: 0, open: false});
  design.accepted = new Map();
  if (values.size) past.states.push({values, name}), past.at = 1;
  followers.forEach((follow) => follow(null));
};

// Values that were not saved outlive a page that is loaded again, and so does how she looks at the cage, as far as the
// browser lets us keep them.
const [KEPT, LOOK] = ["cage3d unsaved", "cage3d look"];
const keepHere = (key, what) => {
  try {
    sessionStorage.setItem(key, JSON.stringify({file: design.file, what}));
  } catch { /* not kept then */ }
};
const keptHere = (key, file) => {
  try {
    const kept = JSON.parse(sessionStorage.getItem(key));
    return kept && kept.file === file ? kept.what : null;
  } catch {
    return null;
  }
};
const keepValues = () => keepHere(KEPT, [...valuesNow()]);
const keptValues = ({file}) => new Map(keptHere(KEPT, file) || []);
