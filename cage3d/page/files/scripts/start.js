// Where the browser draws in three dimensions the controls come; where not, the line drawing stays and none do.
const startViews = () => {
  const made = data.cages.map(makeView);
  if (made.includes(null)) return;
  views.push(...made);
  document.body.classList.replace("no-3d", "with-3d");
  [startSwitches, startMeasuring, startDressing, startSteps, startHands, startAddress].forEach((start) => start());
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", redraw);
  startPrinting();
};
startViews();
