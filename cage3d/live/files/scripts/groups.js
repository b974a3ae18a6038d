// The values beside the cage, grouped as she thinks: lengths, drops or levels, ties, panels, skirt, steel.
const OPEN_AT_FIRST = ["Lengths", "Drops", "Levels"];
// What hangs a hoop, by the hoop (from 0): drops of tapes, or levels on the cloth of each seam, or at front, sides and back.
const DOWN = /^(?:tapes\.drops\[\d+\]|cloth\.levels(?:\[\d+\]|\.\w+))\[(\d+)\]$/;
const LEVELS = /^cloth\.levels/;
const BY_SIDE = /^cloth\.levels\.\w/;

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
  const down = group.controls.every((control) => DOWN.test(control.place));
  const inside = down ? downOf(group, joints) : [...joints.map(togetherRow), ...group.controls.map(anyRow)];
  return made("details", {class: "group", "data-name": group.name, open: OPEN_AT_FIRST.includes(group.name)},
    made("summary", {}, made("h2", {}, group.name), made("span", {class: "differing"})),
    group.words ? made("p", {class: "words"}, group.words) : null, ...inside);
};
const anyRow = (control) => (control.kind === "choice" ? chosenRow(control) : rowOf(control));
const hoopOf = (place) => Number(DOWN.exec(place)[1]);
// Of a drop, or a level, what hangs between which.
const downName = (place, hoop = hoopOf(place)) => (LEVELS.test(place) ? `Band to hoop ${hoop + 1}, down the cloth`
  : hoop ? `Hoop ${hoop} to hoop ${hoop + 1}` : "Band to hoop 1");
const carriers = (place) => (BY_SIDE.test(place) ? "sides" : LEVELS.test(place) ? "seams" : "tapes");
// Hoop by hoop: all of them together, its waves, and each tape's or seam's by itself.
const downOf = (group, joints) => {
  const inside = joints.filter(({at}) => at === null).map(togetherRow);
  for (const hoop of [...new Set(group.controls.map(({place}) => hoopOf(place)))]) {
    const own = group.controls.filter(({place}) => hoopOf(place) === hoop);
    const waves = joints.filter(({at}) => at === hoop);
    inside.push(made("section", {class: "drop"}, made("h3", {}, downName(own[0].place)), ...waves.map(togetherRow),
      made("details", {"data-name": `each ${hoop}`}, made("summary", {}, `Each of the ${own.length} ${carriers(own[0].place)}`), ...own.map(anyRow))));
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
