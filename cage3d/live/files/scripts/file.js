// The file on the disk: saved, changed meanwhile, read anew; and what is made of the design.
const save = async (how = "save") => {
  if (!valuesNow().size && how === "save") return;
  const values = textsNow();
  closeChange();
  state("Saving…");
  const answer = await ask(how, {values});
  if (answer.kind === "failed") return notSaved(answer);
  forget("disk");
  if (answer.opened) open(answer.opened);
  state(answer.text || "Saved", "hangs");
  announce(answer.text || "Saved");
};
const notSaved = ({text, choice}) => {
  state("Not saved", "bad");
  if (choice === "on disk") return onDisk(text);
  notice("disk", made("p", {}, `Not saved. ${text}`), button("Close", () => forget("disk")));
};
const onDisk = (text) => notice("disk",
  made("p", {}, text || `${design.file} was changed on the disk meanwhile, and you have changes here that are not saved.`),
  made("p", {class: "row"}, button("Read the file anew, without mine", readAnew), button("Save mine over it", () => save("save over")),
    button("Decide later", () => forget("disk"))));
const readAnew = async () => {
  const answer = await ask("reload");
  if (answer.kind === "failed") return notice("disk", made("p", {}, answer.text), button("Close", () => forget("disk")));
  forget("disk");
  if (answer.opened) open(answer.opened);
};
const fetchMade = async (what) => {
  by("make-menu").open = false;
  by("make-menu").querySelector("summary").focus();
  const line = made("p", {}, "Making…");
  notice("made", line, button("Stop", () => ask("stop")));
  const under = (words) => { line.textContent = `Making: ${words}…`; };
  const given = what === "folder" ? ["make", {}] : ["download", {what}];
  const answer = await ask(given[0], {...given[1], values: textsNow()}, under);
  if (answer.href) made("a", {href: answer.href, download: answer.name || ""}).click();
  notice("made", made("p", {}, answer.text || (answer.name ? `${answer.name} is ready and goes to your downloads.` : "Done.")),
    button("Close", () => forget("made")));
  announce(by("notices").lastChild.querySelector("p").textContent);
};
const startFile = () => {
  by("save").addEventListener("click", () => save());
  for (const one of document.querySelectorAll("[data-what]")) one.addEventListener("click", () => fetchMade(one.dataset.what));
  document.querySelector("[data-do=make]").addEventListener("click", () => fetchMade("folder"));
  document.addEventListener("click", (event) => { if (!event.target.closest("#make-menu")) by("make-menu").open = false; });
  window.addEventListener("beforeunload", (event) => { if (valuesNow().size) event.preventDefault(); });
};
