// The values beside the cage, grouped as she thinks: lengths, drops, ties, panels, skirt, steel.
const OPEN_AT_FIRST = ["Lengths", "Drops"];
const DROP = /^tapes\.drops\[(\d+)\]\[(\d+)\]$/;

const layGroups = (groups) => {
  const panel = by("panel-change");
  const open = new Map([...panel.querySelectorAll("details[data-name]")].map((held) => [held.dataset.name, held.open]));
  const held = document.activeElement.closest?.(".control[data-place]");
  const [place, kind] = held ? [held.dataset.place, document.activeElement.type] : [];
  rows.clear();
  joinedRows.length = 0;
  panel.replaceChildren(...groups.map(groupOf));
  for (const part of panel.querySelectorAll("details[data-name]")) {
    if (open.has(part.dataset.name)) part.open = open.get(part.dataset.name);
  }
  const row = rows.get(place);
  if (row) (kind === "range" && row.slider ? row.slider : row.box).focus();
};
const groupOf = (group) => {
  const joints = design.joined.filter((joint) => joint.group === group.name);
  const drops = group.controls.every((control) => DROP.test(control.place));
  const inside = drops ? dropsOf(group, joints) : [...joints.map(togetherRow), ...group.controls.map(anyRow)];
  return made("details", {class: "group", "data-name": group.name, open: OPEN_AT_FIRST.includes(group.name)},
    made("summary", {}, made("h2", {}, group.name), made("span", {class: "differing"})),
    group.words ? made("p", {class: "words"}, group.words) : null, ...inside);
};
const anyRow = (control) => (control.kind === "choice" ? chosenRow(control) : rowOf(control));
// Drops hoop by hoop: all of them together, its waves, and each tape's by itself.
const dropsOf = (group, joints) => {
  const hoopOf = (place) => Number(DROP.exec(place)[2]);
  const ofOne = (joint) => new Set(joint.places.map(hoopOf)).size === 1;
  const inside = joints.filter((joint) => !ofOne(joint)).map(togetherRow);
  for (const hoop of [...new Set(group.controls.map(({place}) => hoopOf(place)))]) {
    const own = group.controls.filter(({place}) => hoopOf(place) === hoop);
    const waves = joints.filter((joint) => ofOne(joint) && hoopOf(joint.places[0]) === hoop);
    const name = hoop ? `Hoop ${hoop} to hoop ${hoop + 1}` : "Band to hoop 1";
    inside.push(made("section", {class: "drop"}, made("h3", {}, name), ...waves.map(togetherRow),
      made("details", {"data-name": `each ${hoop}`}, made("summary", {}, `Each of the ${own.length} tapes`), ...own.map(anyRow))));
  }
  return inside;
};
// places: those that changed, null for any.
const refreshGroups = (places) => {
  if (places) places.forEach((place) => refreshRow(rows.get(place)));
  else rows.forEach(refreshRow);
  joinedRows.forEach(refreshTogether);
  for (const held of document.querySelectorAll("#panel-change .group")) {
    const count = [...held.querySelectorAll(".control.differs")].length;
    held.querySelector(".differing").textContent = count ? `${count} changed` : "";
  }
};
