// What is said: how it stands, what to mind, what could not be, and what is read out.
const told = {things: "", before: null}; // before: what was said before the file could not be read

const state = (words, kind = "") => {
  by("state").textContent = words;
  by("state").dataset.kind = kind;
};
// Read out once the hand rests, and only what is new.
const announce = (words) => {
  if (by("announced").textContent !== words) by("announced").textContent = words;
};
const notice = (name, ...inside) => {
  forget(name);
  by("notices").append(made("div", {class: "notice", id: `notice-${name}`, role: "alert"}, ...inside));
};
const forget = (name) => by(`notice-${name}`)?.remove();

// What goes along with every shape; it is not read out.
const saySummary = ({summary, warnings}) => {
  by("summary").innerHTML = summary;
  const minded = warnings || [];
  if (by("minded").dataset.said === JSON.stringify(minded)) return;
  by("minded").dataset.said = JSON.stringify(minded);
  by("minded").hidden = !minded.length;
  by("minded").replaceChildren(made("h2", {class: "unseen"}, "Mind this"),
    made("ul", {}, ...minded.map((warning) => made("li", {}, warning.text))));
};
// What a check of the file would tell; told twice, first without what is foretold.
const sayFigures = ({summary, text, warnings, trusted, foretold}) => {
  saySummary({summary, warnings});
  by("figures").innerHTML = text;
  const minded = warnings || [];
  const things = minded.length ? `${counted(minded.length, "thing")} to mind` : "nothing to mind";
  if (trusted === false) return noRest(minded.length ? minded[0].text : "These figures are no answer.");
  hangs();
  state(`Hangs; ${things}`, minded.length ? "minded" : "hangs");
  if (!foretold || told.things !== things) announce(foretold ? `${things}.` : `${by("summary").textContent} ${things}.`);
  told.things = things;
};
const noRest = (why) => {
  document.body.classList.remove("unsure");
  document.body.classList.add("stale");
  by("no-rest").hidden = false;
  by("no-rest").textContent = `No rest is found: ${why}${pictured ? " The last shape that hung is shown." : ""}`;
  state("No answer here", "bad");
  announce(by("no-rest").textContent);
};
const hangs = () => {
  document.body.classList.remove("stale", "unsure");
  by("no-rest").hidden = true;
};
const sayRefused = ({faults, nearest}, move) => {
  refuseNothing();
  forget("refused");
  const homeless = faults.filter((fault) => !refuse(fault));
  if (homeless.length) {
    const near = Object.entries(nearest || {}).filter(([place]) => design.controls.has(place));
    notice("refused", made("p", {}, "The design cannot be so:"),
      made("ul", {}, ...homeless.map((fault) => made("li", {}, faultWords(fault)))),
      near.length ? button("Take the nearest that can be", () => takeTexts(near, "The nearest that can be")) : null);
  }
  state("Refused; the cage stands as before", "bad");
  announce(faults.map(faultWords).join(" "));
  if (!move || wire.flying) return; // the hand is elsewhere already
  if (takeBack(move.values, faults.map(({place}) => place))) sendMove(textsNow(), true, true);
};
const accept = (move) => {
  if (move) design.accepted = new Map(Object.entries(move.values));
  if (move && move.quiet) return;
  refuseNothing();
  forget("refused");
};
// The file is named above already, the line before it.
const faultWords = ({where, place, written: said, why, try_this: instead}) => {
  const at = /[\\/]|\.ya?ml$/.test(where || "") ? "" : where || place;
  const what = [at, said].filter(Boolean).join(", ");
  return ended(`${what ? `${what}: ` : ""}${[why, instead].filter(Boolean).join(". ")}`);
};
const ended = (words) => (/[.?!]$/.test(words) ? words : `${words}.`);
const sayUnreadable = (faults) => {
  document.body.classList.add("unreadable");
  by("panel-change").inert = true;
  const line = ({line: number, column}) => (number ? `Line ${number}${column ? `, column ${column}` : ""}: ` : "");
  notice("unreadable", made("p", {}, `${design.file || "The file"} cannot be read as it is now. Mend it in your editor; this page takes it up again by itself.`),
    made("ul", {}, ...faults.map((fault) => made("li", {}, made("b", {}, line(fault)), faultWords(fault)))));
  if (by("state").dataset.kind !== "unreadable") told.before = [by("state").textContent, by("state").dataset.kind];
  state("The file cannot be read", "unreadable");
};
const sayReadable = () => {
  document.body.classList.remove("unreadable");
  by("panel-change").inert = false;
  forget("unreadable");
  if (by("state").dataset.kind === "unreadable" && told.before) state(...told.before);
};
