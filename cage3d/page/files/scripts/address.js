// The view stands in the page's address, so that it can be sent, and is taken up again from there.
const startAddress = () => {
  const addressed = () => location.hash.replace(/^#/, "");
  let written = addressed();
  takeUp(written);
  changed = afterPause(() => {
    written = lookInWords();
    if (addressed() !== written) history.replaceState(null, "", `#${written}`);
  });
  window.addEventListener("hashchange", () => { if (addressed() !== written) takeUp(addressed()); });
};
