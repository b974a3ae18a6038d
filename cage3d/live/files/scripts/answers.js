// How the figures answer one slider: settled along its way, on asking.
const showAnswers = async (control) => {
  const dialog = by("answers");
  by("answers-title").textContent = `How the figures answer ${control.name}`;
  by("answers-words").textContent = "Settling along the slider…";
  by("answers-curve").replaceChildren();
  dialog.dataset.place = control.place;
  dialog.onclose = () => { if (!by("answers-curve").firstChild) ask("stop"); };
  dialog.showModal();
  const answer = await ask("curve", {place: control.place, values: textsNow()}, (words) => {
    by("answers-words").textContent = `${words}…`;
  });
  if (!dialog.open || answer.stopped || dialog.dataset.place !== control.place) return;
  by("answers-words").textContent = answer.text || "";
  if (answer.svg) by("answers-curve").innerHTML = answer.svg;
};
