// How the figures answer one slider: settled along its way, on asking.
const askButton = (name, what) => button("∿", () => showAnswers(name, what), {class: "ask",
  title: "How the figures answer", "aria-label": `How the figures answer ${name}`});
// what: {place} of one value, {places, shares} of several that move together.
const showAnswers = async (name, what) => {
  const dialog = by("answers");
  by("answers-title").textContent = `How the figures answer ${name}`;
  by("answers-words").textContent = "Settling along the slider…";
  by("answers-curve").replaceChildren();
  dialog.dataset.of = name;
  dialog.onclose = () => { if (!by("answers-curve").firstChild) ask("stop"); };
  dialog.showModal();
  const answer = await ask("curve", {...what, values: textsNow()}, (words) => {
    by("answers-words").textContent = `${words}…`;
  });
  if (!dialog.open || answer.stopped || dialog.dataset.of !== name) return;
  by("answers-words").textContent = answer.text || "";
  if (answer.svg) by("answers-curve").innerHTML = answer.svg;
};
