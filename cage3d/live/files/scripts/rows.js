// One value: its name, a box to type in, a slider, and what is wrong with it.
// By the place of a value. held: the text that was refused, which stays in its box to be mended there.
const rows = new Map();
const LARGE = 8; // steps of Page Up and Page Down
let rowCount = 0;

const rowOf = (control) => {
  rowCount += 1;
  const id = `value-${rowCount}`;
  const row = {control, id, held: null};
  row.box = made("input", {id, type: "text", class: "box", autocomplete: "off", spellcheck: "false",
    "aria-describedby": `${id}-why`, change: () => typed(row), focus: () => light(row), blur: () => light(null),
    keydown: (event) => keyInBox(row, event)});
  const [least, most] = [control.least, control.most].map((end) => Math.round((end - control.value) / control.step));
  row.slider = made("input", {type: "range", min: least, max: most, step: 1, "aria-label": `${control.name}, slider`,
    input: () => slid(row), change: closeChange, focus: () => light(row), blur: () => light(null),
    keydown: (event) => keyOnSlider(row, event)});
  row.why = made("div", {id: `${id}-why`, class: "why", hidden: true});
  row.element = made("div", {class: "control", "data-place": control.place},
    made("label", {for: id}, control.name), row.box,
    made("span", {class: "unit", "aria-hidden": "true"}, control.suffix ? "" : control.unit || ""),
    askButton(control.name, {place: control.place}),
    row.slider, row.why);
  rows.set(control.place, row);
  refreshRow(row);
  return row.element;
};
const chosenRow = (control) => {
  rowCount += 1;
  const id = `value-${rowCount}`;
  const row = {control, id, held: null};
  row.box = made("select", {id, change: () => typed(row), "aria-describedby": `${id}-why`},
    ...control.choices.map((choice) => made("option", {value: choice}, choice)));
  row.why = made("div", {id: `${id}-why`, class: "why", hidden: true});
  row.element = made("div", {class: "control", "data-place": control.place},
    made("label", {for: id}, control.name), row.box, row.why);
  rows.set(control.place, row);
  refreshRow(row);
  return row.element;
};
const refreshRow = (row) => {
  const {control, box, slider} = row;
  row.element.classList.toggle("differs", valuesNow().has(control.place));
  if (row.held !== null) return;
  const text = textAt(control.place);
  if (document.activeElement !== box || !row.typing) box.value = text;
  if (!slider) return;
  const value = numberAt(control.place);
  if (value !== null && !row.sliding) slider.value = Math.round((value - control.value) / control.step);
  slider.setAttribute("aria-valuetext", value === null ? text : spoken(control, value));
};
const slid = (row) => {
  const {control, slider} = row;
  const value = control.value + Number(slider.value) * control.step;
  row.held = null;
  row.sliding = true;
  change([[control.place, {text: Number(slider.value) ? written(control, value) : control.text, value}]], control.name, true);
  row.sliding = false;
  moved(false);
};
const typed = (row) => {
  const {control, box} = row;
  row.typing = false;
  const text = control.kind === "choice" ? box.value : withUnit(control, box.value.trim());
  if (text === row.held) return;
  if (text === "" || (text === textAt(control.place) && row.held === null)) return refreshRow(row);
  row.held = null;
  change([[control.place, {text, value: control.kind === "choice" ? null : valueOf(control, text)}]], control.name);
  moved(true);
};
const keyInBox = (row, event) => {
  if (event.key === "Enter") return event.preventDefault(), typed(row), row.box.select();
  if (event.key === "Escape") return Object.assign(row, {typing: false, held: null}), refuseNothing(), refreshRow(row), row.box.select();
  if (event.key === "ArrowUp" || event.key === "ArrowDown" || event.key.startsWith("Page")) return keyOnSlider(row, event);
  if (event.ctrlKey || event.metaKey) return;
  if (event.key.length === 1 || event.key === "Backspace" || event.key === "Delete") row.typing = true;
};
const WAYS = {ArrowUp: 1, ArrowDown: -1, PageUp: LARGE, PageDown: -LARGE};
const keyOnSlider = (row, event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || !row.slider) return;
  if (event.key.toLowerCase() === "r" && event.target === row.slider) {
    putBack([row.control.place], `${row.control.name} put back`);
    return moved(true);
  }
  if (!WAYS[event.key]) return;
  event.preventDefault();
  row.slider.value = Number(row.slider.value) + WAYS[event.key];
  slid(row);
};
// The part of the picture that a value belongs to.
const light = (row) => {
  const part = row && row.control.part;
  const down = row && DOWN.test(row.control.place);
  picture.light(part ? {...part, ...(down && part.group !== "hoops" ? {stretch: hoopOf(row.control.place)} : {})} : null);
};
// What is refused, said at its box; `nearest` is taken by one press.
const refuse = ({place, written: said, why, try_this: instead, nearest}) => {
  const row = rows.get(place);
  if (!row) return false;
  row.element.classList.add("refused");
  row.box.setAttribute("aria-invalid", "true");
  row.why.hidden = false;
  row.why.replaceChildren(made("p", {}, ended([said ? `${said}: ${why}` : why, instead].filter(Boolean).join(". "))));
  if (nearest) {
    row.why.append(button(`Take ${nearest}`, () => {
      row.held = null;
      takeTexts([[place, nearest]], row.control.name);
      row.box.focus();
    }));
  }
  for (let holder = row.element.closest("details"); holder; holder = holder.parentElement.closest("details")) holder.open = true;
  return true;
};
const refuseNothing = () => {
  for (const row of rows.values()) {
    if (row.held !== null) {
      row.held = null;
      refreshRow(row);
    }
    if (row.why.hidden) continue;
    row.element.classList.remove("refused");
    row.box.removeAttribute("aria-invalid");
    row.why.hidden = true;
    row.why.replaceChildren();
  }
};
