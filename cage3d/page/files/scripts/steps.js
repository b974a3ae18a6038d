// Variants of one design: sliders step through the values of its figures, each value a stage of the cage.
const sliders = [...document.querySelectorAll("input[data-step]")];
const stepNow = () => sliders.reduceRight((before, slider) => before * (Number(slider.max) + 1) + Number(slider.value), 0);
const saySteps = () => {
  const name = data.steps.names[stepNow()];
  sliders.forEach((slider, figure) => {
    const value = data.steps.values[figure][slider.value];
    slider.setAttribute("aria-valuetext", value);
    slider.nextElementSibling.textContent = value;
  });
  // Where a variant is no answer nothing is drawn: the neighbour's shape would look like one.
  document.body.classList.toggle("no-answer", !data.stages.includes(name));
  return name;
};
const showSteps = () => {
  const name = saySteps();
  if (data.stages.includes(name)) dress(name);
  else sayStage(name);
};
// The sliders where a stage that was called by its name has them.
const followSteps = (stage) => {
  if (!sliders.length) return;
  let place = data.steps.names.indexOf(stage);
  for (const slider of sliders) {
    const count = Number(slider.max) + 1;
    slider.value = place % count;
    place = Math.floor(place / count);
  }
  saySteps();
};
const goSteps = (by) => {
  if (!sliders.length) return;
  const count = data.steps.names.length;
  let place = (stepNow() + by + count) % count;
  for (const slider of sliders) {
    slider.value = place % (Number(slider.max) + 1);
    place = Math.floor(place / (Number(slider.max) + 1));
  }
  showSteps();
};
const startSteps = () => {
  for (const slider of sliders) slider.addEventListener("input", showSteps);
  for (const button of document.querySelectorAll("button[data-go]")) {
    button.addEventListener("click", () => goSteps(Number(button.dataset.go)));
  }
};
