// Parts on and off, by their names: in a comparison a box stands for the parts of both cages.
const boxes = [...document.querySelectorAll("input[data-part]")];
const groupBoxes = [...document.querySelectorAll("input[data-group]")];
const refreshParts = () => {
  const on = new Map(boxes.map((box) => [box.dataset.part, box.checked]));
  for (const view of views) for (const part of view.parts) part.boxed = on.get(part.name);
  for (const group of groupBoxes) {
    const own = boxes.filter((box) => box.dataset.of === group.dataset.group);
    group.checked = own.some((box) => box.checked);
    group.indeterminate = group.checked && !own.every((box) => box.checked);
  }
  fitFrame();
  redraw();
};
const IN_HER_PLACE = {form: "wearer", wearer: "form"}; // one of them stands in the cage
const takeOff = (other) => {
  for (const box of boxes) if (box.dataset.of === other) box.checked = false;
};
const startSwitches = () => {
  boxes.forEach((box) => box.addEventListener("change", refreshParts));
  groupBoxes.forEach((group) => group.addEventListener("change", () => {
    for (const box of boxes) if (box.dataset.of === group.dataset.group) box.checked = group.checked;
    if (group.checked) takeOff(IN_HER_PLACE[group.dataset.group]);
    refreshParts();
  }));
  marksOn.addEventListener("change", redraw);
  if (pullsOn) pullsOn.addEventListener("change", redraw);
  if (opaqueSkirt) {
    opaqueSkirt.addEventListener("change", () => {
      if (opaqueSkirt.checked) for (const box of boxes) if (box.dataset.of === "skirt") box.checked = true;
      refreshParts();
    });
  }
};
