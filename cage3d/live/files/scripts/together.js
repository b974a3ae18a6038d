// One slider that moves several values by one amount, each by its share of it.
const joinedRows = [];
const NEAR = 0.51; // steps that rounding to whole steps may take a value off what moves it

const togetherRow = (joint) => {
  const row = {joint, name: joint.name, from: null};
  const [least, most] = [joint.least, joint.most].map((end) => Math.round(end / joint.step));
  row.said = made("output", {class: "by"});
  row.slider = made("input", {type: "range", min: least, max: most, step: 1, "aria-label": joint.name,
    input: () => slidTogether(row), change: () => { row.from = null; closeChange(); refreshTogether(row); }});
  row.element = made("div", {class: "control together"}, made("span", {class: "name"}, joint.name), row.said,
    askButton(joint.name, {places: joint.places, shares: joint.shares}), row.slider);
  joinedRows.push(row);
  refreshTogether(row);
  return row.element;
};
// By how much they are off the file, as far as that can be said by one number: least squares over the shares.
const movedBy = ({places, shares}) => {
  let [sum, weight] = [0, 0];
  places.forEach((place, i) => {
    const share = shares ? shares[i] : 1;
    const value = numberAt(place);
    if (value === null) return;
    sum += share * (value - design.controls.get(place).value);
    weight += share * share;
  });
  return weight ? sum / weight : 0;
};
const refreshTogether = (row) => {
  const {joint, slider, said} = row;
  const off = row.from ? row.from.off : movedBy(joint);
  if (!row.from) slider.value = Math.round(off / joint.step);
  const steps = Number(slider.value);
  const amount = bare({...joint, fractions: joint.unit === "in" ? FINEST : 0}, Math.abs(steps) * joint.step);
  const alike = joint.places.every((place, i) => {
    const value = numberAt(place);
    const share = joint.shares ? joint.shares[i] : 1;
    return value !== null && Math.abs(value - design.controls.get(place).value - off * share) <= NEAR * joint.step;
  });
  const words = !alike ? "differ" : steps ? `${steps > 0 ? "+" : "−"}${amount} ${joint.unit}` : "as in the file";
  said.textContent = words;
  slider.setAttribute("aria-valuetext", words);
};
const slidTogether = (row) => {
  const {joint, slider} = row;
  row.from ??= {off: movedBy(joint), values: joint.places.map(numberAt)};
  const by = Number(slider.value) * joint.step - row.from.off;
  const changes = joint.places.map((place, i) => {
    const control = design.controls.get(place);
    const before = row.from.values[i] ?? control.value;
    // In whole steps from what the file says, so that fractions stay fractions.
    const steps = Math.round((before + by * (joint.shares ? joint.shares[i] : 1) - control.value) / joint.step);
    const value = Math.max(control.value + steps * joint.step, 0);
    return [place, {text: steps ? written(control, value) : control.text, value}];
  });
  change(changes, joint.name, true);
  moved(false);
};
