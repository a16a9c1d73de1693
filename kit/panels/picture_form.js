// A drawing as a form: a press, Enter or Space on a dimension opens an input over it; Enter hands the text on, Escape leaves it as it was.
const slug = (place) => place.replace(/[^A-Za-z0-9]+/g, "-");

function render({ model, el }) {
  const box = document.createElement("div");
  box.className = "sk-picture-form";
  const drawing = document.createElement("div");
  box.appendChild(drawing);
  el.appendChild(box);
  let input = null;
  let [typed_in, had] = ["", ""]; // its field, and what stood there
  let lit = ""; // the place of the field in focus beside the drawing
  let lights = {}; // by part, the fields that have no figure in the drawing, for which it lights up
  const root = () => el.closest(".sk-screen");
  const dimension_of = (field) =>
    [...drawing.querySelectorAll(`.sk-fill[data-field="${CSS.escape(field)}"]`)].find((one) => one.getClientRects().length); // of the layout on show

  const light = () => {
    for (const group of drawing.querySelectorAll("[data-fields]")) {
      const places = group.dataset.fields.split(" ").map(slug);
      const its_own = group.dataset.field && slug(group.dataset.field) === lit;
      group.classList.toggle("sk-lit", Boolean(lit) && (its_own || places.some((place) => place === lit || lit.startsWith(`${place}-`))));
      group.classList.toggle("sk-lit-own", Boolean(lit) && Boolean(its_own));
    }
    for (const shape of drawing.querySelectorAll("[data-part]")) shape.classList.toggle("sk-lit", (lights[shape.dataset.part] || []).includes(lit));
  };
  const show = () => {
    const focused = drawing.contains(document.activeElement) ? document.activeElement.dataset.field : "";
    drawing.innerHTML = model.get("value");
    const said = drawing.querySelector("[data-lights]");
    lights = Object.fromEntries(Object.entries(said ? JSON.parse(said.dataset.lights) : {}).map(([part, places]) => [part, places.map(slug)]));
    light();
    const again = focused && dimension_of(focused);
    if (again) again.focus({ preventScroll: true });
  };
  const leave = (field) => {
    if (!input) return;
    const gone = input;
    input = null;
    gone.remove();
    const dimension = field && dimension_of(field);
    if (dimension) dimension.focus({ preventScroll: true });
  };
  const told = (field) => { // whether another measure stands there; whoever remembers what is typed hears of it as of any field's
    if (!input || input.value.trim() === had) return false;
    input.dataset.at = `sk-at:${field}`;
    input.dispatchEvent(new Event("change", { bubbles: true }));
    return true;
  };
  const open = (dimension) => {
    leave("");
    const field = dimension.dataset.field;
    typed_in = field;
    had = dimension.classList.contains("sk-unmeasured") ? "" : dimension.querySelector("text").textContent.trim();
    const [at, around] = [dimension.getBoundingClientRect(), box.getBoundingClientRect()];
    input = document.createElement("input");
    input.className = "sk-fill-input";
    input.value = had;
    input.setAttribute("aria-label", dimension.getAttribute("aria-label").split(",")[0]);
    input.style.left = `${Math.max(0, Math.min(at.left - around.left + at.width / 2 - 60, around.width - 120))}px`;
    input.style.top = `${at.top - around.top + at.height / 2 - 22}px`;
    const hand_on = () => {
      if (!told(field)) return;
      try { model.send({ type: "typed", field, text: input.value }); } catch { /* nobody is there any more: it is remembered, and offered back */ }
    };
    input.addEventListener("keydown", (event) => {
      event.stopPropagation();
      if (event.key === "Enter") { hand_on(); leave(field); }
      if (event.key === "Escape") leave(field);
    });
    input.addEventListener("blur", () => { hand_on(); leave(""); });
    box.appendChild(input);
    input.focus();
    input.select();
  };
  const pressed = (event) => {
    const dimension = event.target.closest(".sk-fill");
    if (dimension) open(dimension);
  };
  const keyed = (event) => {
    const dimension = event.target.closest(".sk-fill");
    if (!dimension || (event.key !== "Enter" && event.key !== " ")) return;
    event.preventDefault();
    event.stopPropagation();
    open(dimension);
  };
  const light_row = (field, on) => {
    const row = root() && root().querySelector(`.sk-place-${CSS.escape(slug(field))}`);
    if (row) row.classList.toggle("sk-lit-row", on);
  };
  const entered = (event) => {
    const dimension = event.target.closest(".sk-fill");
    if (dimension) light_row(dimension.dataset.field, true);
  };
  const left = (event) => {
    const dimension = event.target.closest(".sk-fill");
    if (dimension) light_row(dimension.dataset.field, false);
  };
  const focused = (event) => { // a field beside the drawing
    const screen = root();
    if (!screen || !screen.contains(event.target) || box.contains(event.target)) return;
    const row = event.target.closest("[class*='sk-place-']");
    const name = row && [...row.classList].find((one) => one.startsWith("sk-place-"));
    lit = name ? name.slice("sk-place-".length) : "";
    light();
  };
  drawing.addEventListener("click", pressed);
  drawing.addEventListener("keydown", keyed);
  drawing.addEventListener("focusin", entered);
  drawing.addEventListener("focusout", left);
  document.addEventListener("focusin", focused);
  const gone = () => { told(typed_in); leave(""); }; // the page is left while a measure is typed: nobody is there to send it to
  window.addEventListener("pagehide", gone);
  model.on("change:value", show);
  show();
  return () => {
    document.removeEventListener("focusin", focused);
    window.removeEventListener("pagehide", gone);
    model.off("change:value", show);
    box.remove(); // whoever still holds the place of the drawing holds no drawing
  };
}

export default { render };
