// Parts on and off, by their names: in a comparison a box stands for the parts of both cages.
const boxes = [], groupBoxes = []; // as they stand in the page; other parts bring others
const findSwitches = () => {
  boxes.splice(0, boxes.length, ...document.querySelectorAll("input[data-part]"));
  groupBoxes.splice(0, groupBoxes.length, ...document.querySelectorAll("input[data-group]"));
};
findSwitches();
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
const hearSwitches = () => {
  boxes.forEach((box) => box.addEventListener("change", refreshParts));
  groupBoxes.forEach((group) => group.addEventListener("change", () => {
    for (const box of boxes) if (box.dataset.of === group.dataset.group) box.checked = group.checked;
    if (group.checked) takeOff(IN_HER_PLACE[group.dataset.group]);
    refreshParts();
  }));
  if (opaqueSkirt) {
    opaqueSkirt.addEventListener("change", () => {
      if (opaqueSkirt.checked) for (const box of boxes) if (box.dataset.of === "skirt") box.checked = true;
      refreshParts();
    });
  }
};
const startSwitches = () => {
  hearSwitches();
  marksOn.addEventListener("change", redraw);
  if (pullsOn) pullsOn.addEventListener("change", redraw);
};
