// The list of steps: its buttons stay where they are while their marks change, so that the cursor stays too.
const SIGNS = { stop: "\u25a0", decide: "\u25b3", done: "\u2713", open: "\u25cb", refused: "!" };

function render({ model, el }) {
  const nav = document.createElement("nav");
  nav.className = "sk-steps";
  nav.setAttribute("aria-label", "Steps of the visit");
  const progress = document.createElement("p");
  progress.className = "sk-progress";
  const list = document.createElement("ol");
  nav.append(progress, list);
  el.appendChild(nav);

  const button_of = (index) => {
    if (list.children[index]) return list.children[index].firstChild;
    const item = document.createElement("li");
    const button = document.createElement("button");
    button.type = "button";
    button.className = "sk-step";
    button.append(document.createElement("span"), document.createElement("span"), document.createElement("span"));
    button.children[0].className = "sk-step-sign";
    button.children[0].setAttribute("aria-hidden", "true");
    button.children[2].className = "sk-step-says";
    item.appendChild(button);
    list.appendChild(item);
    return button;
  };
  const write = (node, text) => { if (node.textContent !== text) node.textContent = text; };
  const show = () => {
    const current = model.get("current");
    model.get("steps").forEach((step, index) => {
      const button = button_of(index);
      button.dataset.go = step.id;
      button.dataset.name = step.name;
      button.dataset.mark = step.mark;
      write(button.children[0], SIGNS[step.mark] || "");
      write(button.children[1], step.name);
      write(button.children[2], step.says);
      if (step.id === current) button.setAttribute("aria-current", "step");
      else button.removeAttribute("aria-current");
    });
    write(progress, model.get("progress"));
  };
  const root = () => el.closest(".sk-screen");
  const reveal = () => {
    const button = list.querySelector("[aria-current]");
    if (button && list.scrollWidth > list.clientWidth) list.scrollLeft = button.offsetLeft - list.clientWidth / 3; // on a narrow window the list is a row
  };
  let width = 0;
  const resized = new ResizeObserver(() => {
    if (width !== list.clientWidth) reveal();
    width = list.clientWidth;
  });
  const turned = () => {
    show();
    reveal();
    const main = root() && root().querySelector(".sk-main");
    const top = root() && root().querySelector(".sk-top");
    if (main && main.getBoundingClientRect().top < (top ? top.getBoundingClientRect().bottom : 0)) main.scrollIntoView({ block: "start" });
  };
  const pressed = (event) => {
    const button = event.target.closest("[data-go]");
    const screen = root();
    if (button && screen && screen.contains(button)) model.send({ type: "go", to: button.dataset.go });
  };
  const seek = (message, tries = 60) => {
    if (message.type !== "seek") return;
    const screen = root();
    const place = CSS.escape(message.place.replace(/[^A-Za-z0-9]+/g, "-"));
    const field = screen && screen.querySelector(`.sk-place-${place} :is(input, select)`);
    const group = screen && screen.querySelector(`[data-group="${place}"]`);
    if (field) { field.scrollIntoView({ block: "center" }); field.focus(); }
    else if (group) { group.scrollIntoView({ block: "start" }); group.focus({ preventScroll: true }); }
    else if (tries) requestAnimationFrame(() => seek(message, tries - 1));
  };
  resized.observe(list);
  document.addEventListener("click", pressed);
  model.on("change:steps change:progress", show);
  model.on("change:current", turned);
  model.on("msg:custom", seek);
  show();
  return () => {
    resized.disconnect();
    document.removeEventListener("click", pressed);
    model.off("change:steps change:progress", show);
    model.off("change:current", turned);
    model.off("msg:custom", seek);
  };
}

export default { render };
