// Bare, tied, worn: the cage changes from one stage to the next before one's eyes.
const CHANGE = 700; // ms
const stageButtons = [...document.querySelectorAll("button[data-stage]")];

const sayStage = (stage) => {
  for (const note of document.querySelectorAll("[data-words-of]")) note.hidden = note.dataset.wordsOf !== stage;
};
const dress = (stage, atOnce) => {
  if (!data.stages.includes(stage)) return;
  const still = atOnce || isStill();
  Object.assign(dressing, {from: still ? stage : dressing.to, to: stage, share: still ? 1 : 0});
  for (const button of stageButtons) button.setAttribute("aria-pressed", String(button.dataset.stage === stage));
  sayStage(stage);
  followSteps(stage);
  followStage();
  redraw();
  if (still) return;
  const began = performance.now();
  const step = (now) => {
    if (dressing.to !== stage) return;
    dressing.share = within((now - began) / CHANGE, 0, 1);
    redraw();
    if (dressing.share < 1) requestAnimationFrame(step);
  };
  requestAnimationFrame(step);
};
const nextStage = () => dress(data.stages[(data.stages.indexOf(dressing.to) + 1) % data.stages.length]);
const startDressing = () => {
  for (const button of stageButtons) button.addEventListener("click", () => dress(button.dataset.stage));
};
