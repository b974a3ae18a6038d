// What differs from the file, each with what the file says, and put back one by one.
const refreshChanged = () => {
  const values = [...valuesNow()];
  by("tab-changed").textContent = values.length ? `Changed (${values.length})` : "Changed";
  by("changed-none").hidden = values.length > 0;
  by("all-back").hidden = values.length < 2;
  const had = document.activeElement?.closest("#changed li")?.dataset.place;
  by("changed").replaceChildren(...gathered(values).map(({places, name, was, now}) => made("li", {"data-place": places[0]},
    made("span", {class: "name"}, name), made("span", {class: "was"}, `${was} → ${now}`),
    button("Put back", () => { putBack(places, `${name} put back`); moved(true); }, {"aria-label": `Put back ${name}`}))));
  if (had) (by("changed").querySelector("button") || by("tab-changed")).focus();
};
// Drops, or levels, that several tapes or seams changed alike are one line.
const gathered = (values) => {
  const lines = new Map();
  for (const [place, {text}] of values) {
    const control = design.controls.get(place);
    const key = DOWN.test(place) ? `down ${hoopOf(place)}: ${control.text} → ${text}` : place;
    const line = lines.get(key);
    if (line) line.places.push(place);
    else lines.set(key, {places: [place], name: control.name, was: withUnitWords(control, control.text), now: withUnitWords(control, text)});
  }
  return [...lines.values()].map((line) => (line.places.length < 2 ? line : {...line,
    name: `${downName(line.places[0])}, ${line.places.length} ${carriers(line.places[0])}`}));
};
const withUnitWords = (control, text) => (control.suffix || !/\d$/.test(text) ? text : `${text} ${control.unit || ""}`.trim());

const refreshDoing = () => {
  const [before, after] = [past.at > 0, past.at < past.states.length - 1];
  by("undo").disabled = !before;
  by("redo").disabled = !after;
  by("undo").title = before ? `Undo: ${past.states[past.at].name}` : "";
  by("redo").title = after ? `Redo: ${past.states[past.at + 1].name}` : "";
  by("save").disabled = valuesNow().size === 0;
  picture.differs(valuesNow().size > 0);
};
const undo = () => { goTo(past.at - 1); moved(true); };
const redo = () => { goTo(past.at + 1); moved(true); };
