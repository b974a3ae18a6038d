// The way back: what is wanted, what may be changed to get there, and the lengths, drops or levels that give it.
const FREE_AT_FIRST = ["Lengths", "Drops", "Levels"];

// aimable: places of what can be sought.
const layAiming = ({wanted, groups, aimable}) => {
  by("wanted").replaceChildren(...(wanted.length ? [...new Set(wanted.map(({words}) => words))].map((words) => made("li", {}, words.replace(/^wanted: */i, "")))
    : [made("li", {class: "none"}, "Nothing yet. Write under wanted: in the file what hoops should measure, and it is drawn here.")]));
  const may = (control) => aimable.includes(control.place);
  const own = groups.map((group) => ({...group, controls: group.controls.filter(may)})).filter(({controls}) => controls.length);
  by("free").replaceChildren(by("free").querySelector("legend"), ...own.map(freeGroup));
  by("aim").disabled = !wanted.length || !own.length;
  by("aimed").textContent = "";
};
const freeGroup = ({name, controls}) => {
  const single = controls.map((control) => made("input", {type: "checkbox", value: control.place, checked: FREE_AT_FIRST.includes(name)}));
  const whole = made("input", {type: "checkbox", checked: FREE_AT_FIRST.includes(name), change: () => {
    for (const box of single) box.checked = whole.checked;
  }});
  for (const box of single) {
    box.addEventListener("change", () => {
      whole.checked = single.every((one) => one.checked);
      whole.indeterminate = !whole.checked && single.some((one) => one.checked);
    });
  }
  return made("div", {class: "free-group"}, made("label", {}, whole, ` ${name}`),
    made("details", {}, made("summary", {}, `each of the ${controls.length}`),
      ...single.map((box, i) => made("label", {class: "under"}, box, ` ${controls[i].name}`))));
};
const aim = async () => {
  const free = [...by("free").querySelectorAll("input[value]")].filter((box) => box.checked).map((box) => box.value);
  if (!free.length) {
    by("aimed").textContent = "Tick at least one that may be changed.";
    return;
  }
  by("aim").disabled = true;
  by("aim-stop").disabled = false;
  by("aimed").textContent = "Seeking…";
  const answer = await ask("aim", {free, values: textsNow()}, (words) => { by("aimed").textContent = `${words}…`; });
  by("aim").disabled = false;
  by("aim-stop").disabled = true;
  by("aimed").textContent = answer.text || "";
  if (answer.kind !== "done" || !answer.values) return;
  takeTexts(Object.entries(answer.values).filter(([place]) => design.controls.has(place)), "Aimed");
};
const startAiming = () => {
  by("aim").addEventListener("click", aim);
  by("aim-stop").addEventListener("click", () => ask("aim stop"));
};
