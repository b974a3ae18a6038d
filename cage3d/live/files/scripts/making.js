// Elements made in one line: made("p", {class: "why", hidden: true}, "words", another).
const made = (name, attributes = {}, ...inside) => {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (typeof value === "function") element.addEventListener(key, value);
    else if (typeof value === "boolean") element.toggleAttribute(key, value);
    else element.setAttribute(key, value);
  }
  element.append(...inside.filter((one) => one !== null && one !== undefined));
  return element;
};
const button = (words, click, more = {}) => made("button", {type: "button", click, ...more}, words);
const by = (id) => document.getElementById(id);
// Switches and lists of points, as the page that is sent has them.
const layFurniture = ({switches, points}) => {
  by("switches").innerHTML = switches;
  by("points").innerHTML = points;
};
const counted = (count, one, several = `${one}s`) => `${count} ${count === 1 ? one : several}`;
