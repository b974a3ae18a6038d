// On paper the model stands as it is seen, on white, as a plain picture: what WebGL draws does not always print.
const picturesOf = (view) => {
  view.draw();
  const paper = document.createElement("canvas");
  [paper.width, paper.height, paper.className] = [view.canvas.width, view.canvas.height, "on-paper"];
  paper.getContext("2d").drawImage(view.canvas, 0, 0);
  view.canvas.after(paper);
};
const startPrinting = () => {
  window.addEventListener("beforeprint", () => {
    drawn.printing = true;
    views.forEach(picturesOf);
  });
  window.addEventListener("afterprint", () => {
    drawn.printing = false;
    document.querySelectorAll(".on-paper").forEach((paper) => paper.remove());
    redraw();
  });
};
