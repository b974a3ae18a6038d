// Keys that hold everywhere, tabs beside the cage, help, and the words for the first time.
const startTabs = () => {
  const tabs = [...document.querySelectorAll("[role=tab]")];
  const choose = (tab) => {
    for (const one of tabs) {
      one.setAttribute("aria-selected", String(one === tab));
      one.tabIndex = one === tab ? 0 : -1;
      by(one.getAttribute("aria-controls")).hidden = one !== tab;
    }
  };
  tabs.forEach((tab, at) => {
    tab.addEventListener("click", () => choose(tab));
    tab.addEventListener("keydown", ({key}) => {
      const way = {ArrowRight: 1, ArrowLeft: -1}[key];
      const next = way ? tabs[(at + way + tabs.length) % tabs.length] : {Home: tabs[0], End: tabs[tabs.length - 1]}[key];
      if (next) choose(next), next.focus();
    });
  });
};
const isTyped = ({target}) => target.matches?.("input[type=text], textarea, select");
const startKeys = () => {
  const help = () => by("keys").showModal();
  by("help").addEventListener("click", help);
  by("undo").addEventListener("click", undo);
  by("redo").addEventListener("click", redo);
  by("all-back").addEventListener("click", () => { putBack([...valuesNow().keys()], "All put back"); moved(true); });
  document.addEventListener("keydown", (event) => {
    const with_ = event.ctrlKey || event.metaKey;
    const key = event.key.toLowerCase();
    const done = with_ && key === "s" ? () => { document.activeElement.blur?.(); save(); }
      : with_ && key === "z" && !event.shiftKey ? () => past.at > 0 && undo()
      : with_ && (key === "y" || (key === "z" && event.shiftKey)) ? () => past.at < past.states.length - 1 && redo()
      : event.key === "F6" ? overThere
      : event.key === "?" && !isTyped(event) ? help
      : event.key === "Escape" && by("make-menu").open ? () => { by("make-menu").open = false; } : null;
    // While she types, undo is the box's own.
    const typing = event.target.matches?.("input.box") && rows.get(event.target.closest(".control").dataset.place).typing;
    if (!done || document.querySelector("dialog[open]") || (typing && done !== help && key !== "s" && with_)) return;
    event.preventDefault();
    done();
  });
};
const overThere = () => {
  if (document.activeElement.closest(".panel")) return picture.focus();
  const open = document.querySelector("[role=tabpanel]:not([hidden])");
  (open.querySelector("input:not([type=range]), select, button") || document.querySelector("[role=tab][aria-selected=true]")).focus();
};
const SEEN = "cage3d fitting seen";
const startFirstUse = () => {
  let seen = false;
  try { seen = localStorage.getItem(SEEN) === "yes"; } catch { /* shown each time then */ }
  by("first-use").hidden = seen;
  by("begin").addEventListener("click", () => {
    by("first-use").hidden = true;
    try { localStorage.setItem(SEEN, "yes"); } catch { /* shown again next time */ }
    picture.focus();
  });
};
