// A slider that only speaks when a person moves it. What it shows comes from the kernel and is never rounded or sent back.
const SLOP = 8; // px that a finger trembles, and half a knob

function render({ model, el }) {
  const label = document.createElement("label");
  const name = document.createElement("span");
  const input = document.createElement("input");
  const text = document.createElement("output");
  label.className = "sk-slider";
  name.className = "widget-label";
  input.type = "range";
  input.step = "any"; // or the browser would round what was typed
  label.append(name, input, text);
  el.appendChild(label);

  let moves = model.get("heard"); // how often a person has moved it
  let dragging = false;
  let finger = null; // where one came down, until it is clear that it moves the slider: one that scrolls the page writes nothing
  let stood = 0; // the value then
  let resting = false; // on the knob, as far as is known: that moves nothing, also where the browser says so late
  const step = () => model.get("step");
  const within = (value) => Math.min(Math.max(value, model.get("low")), model.get("high"));
  const nearest = (value) => Math.round(value / step()) * step();
  const move = (value) => {
    input.value = String(value);
    moves += 1;
    model.set("moved", [value, moves]);
    model.save_changes(); // one message at a time: a drag never queues
  };
  const show = () => {
    name.textContent = model.get("label");
    label.title = model.get("tip");
    input.setAttribute("aria-label", model.get("label"));
    input.min = String(model.get("low"));
    input.max = String(model.get("high"));
    text.textContent = model.get("text");
    input.setAttribute("aria-valuetext", model.get("text"));
    if (!dragging && model.get("heard") >= moves) input.value = String(model.get("at")); // an answer to an older move would pull it back
  };
  const slid = () => {
    if (finger !== null || (resting && onKnob())) return;
    resting = false;
    move(within(nearest(Number(input.value))));
  };
  const steps = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10 };
  const pressed = (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const at = Number(input.value);
    let to = null;
    if (event.key in steps) {
      const by = steps[event.key];
      const from = by > 0 ? Math.floor(at / step() + 1e-6) : Math.ceil(at / step() - 1e-6); // from between two steps on to the next
      to = within((from + by) * step());
    } else if (event.key === "Home") to = Number(input.min);
    else if (event.key === "End") to = Number(input.max);
    if (to === null) return;
    event.preventDefault();
    event.stopPropagation(); // the notebook would go to its next cell
    if (to !== at) move(to);
  };
  const down = (event) => {
    dragging = true;
    resting = event.pointerType === "touch";
    finger = resting ? event.clientX : null;
    stood = Number(input.value);
  };
  const onKnob = () => Math.abs(Number(input.value) - stood) * input.offsetWidth <= SLOP * (input.max - input.min);
  const went = (event) => { if (finger !== null && Math.abs(event.clientX - finger) > SLOP) { finger = null; resting = false; } };
  const lifted = () => {
    if (finger !== null) { finger = null; slid(); } // a tap
    up();
  };
  const up = () => { dragging = false; finger = null; show(); };
  input.addEventListener("input", slid);
  input.addEventListener("keydown", pressed);
  input.addEventListener("pointerdown", down);
  input.addEventListener("pointermove", went);
  input.addEventListener("pointerup", lifted);
  for (const event of ["pointercancel", "change", "blur"]) input.addEventListener(event, up);
  model.on("change", show);
  show();
  return () => {
    model.off("change", show);
    label.remove();
  };
}

export default { render };
