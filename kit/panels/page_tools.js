// What the widget library leaves open: names of sliders, marks of refused entries, pressed buttons, scrolling by keyboard, one-key shortcuts, downloads,
// which layout is on show, and the views that it keeps of what is no longer on the page.
function mark(field, set) { // a refused entry: the reason stands right below it
  const input = field.querySelector("input, select, textarea");
  if (!input) return;
  if (!field.classList.contains("sk-refused")) {
    if (input.hasAttribute("aria-invalid")) { input.removeAttribute("aria-invalid"); input.removeAttribute("aria-describedby"); }
    return;
  }
  set(input, "aria-invalid", "true");
  const reason = (field.nextElementSibling || field.parentElement.nextElementSibling)?.querySelector(".sk-fault");
  if (!reason) return;
  reason.id = reason.id || `sk-fault-${Math.random().toString(36).slice(2)}`;
  set(input, "aria-describedby", reason.id);
}

// Tables that can be sorted: a press on a head sorts each group of rows by the value of its cells, a second one the other way round. What was
// chosen holds when the rows are made anew; rows without a value stay last.
const sorted = new Map(); // by the table's name: column, and 1 or -1
function sort(table) {
  const [column, way] = sorted.get(table.dataset.name) || [];
  if (column === undefined || table.dataset.sorted === `${column} ${way}`) return;
  table.dataset.sorted = `${column} ${way}`;
  for (const head of table.tHead.rows[0].cells) {
    if (head.querySelector(".sk-sort")) head.setAttribute("aria-sort", head.cellIndex !== column ? "none" : way > 0 ? "ascending" : "descending");
  }
  const value = (row) => parseFloat(row.cells[column]?.dataset.value ?? "NaN");
  for (const body of table.tBodies) {
    const rows = [...body.rows].filter((row) => !row.classList.contains("sk-group"));
    rows.sort((one, other) => {
      const [a, b] = [value(one), value(other)];
      return isNaN(a) || isNaN(b) ? isNaN(a) - isNaN(b) : way * (a - b);
    });
    body.append(...rows);
  }
}

// A long group of rows is open at its start where a window is narrow; a press shows all of it, and holds when the rows are made anew.
const open = new Set(); // by the table's name and the group's head
const group_of = (button) => `${button.closest("table").dataset.name} ${button.textContent}`;
function unfold(button, set) {
  const all = open.has(group_of(button));
  button.closest("tbody").classList.toggle("sk-all-rows", all);
  set(button, "aria-pressed", String(all));
}

// A choice that is longer than its box stands whole below it.
const ARROW = 52; // px beside the words
const pen = document.createElement("canvas").getContext("2d");
function showWhole(root) {
  const seen = [...root.querySelectorAll(".widget-dropdown > select")].filter((choice) => choice.offsetParent);
  const whole = seen.map((choice) => { // all are measured before any is moved
    pen.font = getComputedStyle(choice).font;
    const words = (choice.selectedOptions[0]?.textContent || "").replaceAll("\u00a0", " ");
    return pen.measureText(words).width + ARROW > choice.clientWidth ? words : "";
  });
  seen.forEach((choice, at) => {
    const box = choice.parentElement;
    if ((box.dataset.whole || "") === whole[at]) return;
    if (whole[at]) box.dataset.whole = whole[at];
    else delete box.dataset.whole;
  });
}

function mend(root) {
  const set = (node, name, value) => { if (node.getAttribute(name) !== value) node.setAttribute(name, value); };
  for (const slider of root.querySelectorAll(".widget-slider")) {
    const label = slider.querySelector(".widget-label");
    const handle = slider.querySelector(".noUi-handle");
    const readout = slider.querySelector(".widget-readout");
    if (label && handle) set(handle, "aria-label", label.textContent);
    if (handle && readout) set(handle, "aria-valuetext", readout.textContent);
    if (label && readout) set(readout, "aria-label", label.textContent + ", typed");
  }
  for (const button of root.querySelectorAll("button.widget-upload")) { // how many files wait says nothing: each is taken at once
    const text = button.lastChild;
    if (text && / \(\d+\)$/.test(text.textContent)) text.textContent = text.textContent.replace(/ \(\d+\)$/, "");
  }
  for (const { firstChild: words } of root.querySelectorAll("select[multiple] option")) { // the library's blanks do not break: a long row would in mid-word
    if (words?.data?.includes("\u00a0")) words.data = words.data.replaceAll("\u00a0", " ");
  }
  for (const field of root.querySelectorAll("[class*='sk-at:']")) mark(field, set);
  for (const note of root.querySelectorAll(".sk-note > .widget-html-content")) set(note, "aria-live", "polite");
  for (const table of root.querySelectorAll("table[data-name]")) sort(table);
  for (const button of root.querySelectorAll(".sk-show-all")) unfold(button, set);
  for (const [name, height] of [["sk-top", "--sk-top-height"], ["sk-was-now", "--sk-answer-height"]]) {
    const bar = root.querySelector(`.${name}`);
    if (!bar || bar.dataset.watched) continue;
    bar.dataset.watched = "yes";
    new ResizeObserver(() => root.style.setProperty(height, `${bar.offsetHeight}px`)).observe(bar); // what scrolls stops clear of it
  }
  for (const group of root.querySelectorAll(".widget-toggle-buttons")) {
    for (const button of group.querySelectorAll("button")) set(button, "aria-pressed", String(button.classList.contains("mod-active")));
  }
  for (const button of root.querySelectorAll("button.widget-toggle-button")) set(button, "aria-pressed", String(button.classList.contains("mod-active")));
  for (const pane of root.querySelectorAll(".sk-scroll, .sk-drawing")) {
    set(pane, "tabindex", "0");
    set(pane, "role", "region");
    set(pane, "aria-label", pane.querySelector("caption, svg title")?.textContent || "A part that may be wider than the window");
  }
}

// A view that leaves the page stays in the lists of its layout, of its style and of who hears the program, and with it all that it drew: they let it go.
const SETTLED_MS = 1000;
const SHOWN_MS = 150; // after what is typed was answered
const DEAF = new Set(["@jupyter-widgets/base", "@jupyter-widgets/controls", "anywidget"]); // what we say to their views, we say by their state
async function letGo(manager) {
  for (const model of await Promise.all(Object.values(manager?._models || {}))) {
    for (const view of await Promise.all(Object.values(model.views || {}))) {
      if ((view.unlayout || view.unstyle) && view.options.parent?.luminoWidget?.isDisposed) view.remove();
    }
    if (!DEAF.has(model.get("_model_module"))) continue;
    for (const { callback } of [...(model._events?.["msg:custom"] || [])]) {
      if (callback.name === "bound handle_message") model.off("msg:custom", callback);
    }
  }
}

const LEAVES = ["pointerdown", "keydown", "wheel", "touchmove"]; // a person goes on to something else

function render({ model, el }) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "jupyter-button widget-button sk-button sk-download";
  button.onclick = () => model.send({ type: "download" });
  const name = () => {
    button.textContent = model.get("label");
    button.title = model.get("tip");
    button.style.display = model.get("label") ? "" : "none";
  };
  name();
  el.appendChild(button);

  let root = null;
  let frame = 0;
  let settled = 0;
  let layout = null; // on show, as the style sheet has it; the program draws no other
  const sized = new ResizeObserver(([{ contentRect }]) => {
    const now = contentRect.width ? getComputedStyle(button).getPropertyValue("--sk-layout").trim() : layout; // a tab that is hidden has no width
    if (now === layout) return;
    layout = now;
    try { model.send({ type: "layout", narrow: layout === "phone" }); } catch { /* the program has ended: what is drawn stays on show */ }
  });
  let whole = 0;
  const showSoon = () => { clearTimeout(whole); whole = setTimeout(() => showWhole(root), SHOWN_MS); };
  const resized = new ResizeObserver(showSoon);
  let waits = false; // a button was pressed, and the person has done nothing since: its answer comes into view
  const observer = new MutationObserver((changes) => { // what it sets is not what it observes
    mend(root);
    showSoon();
    const answer = waits && changes.map((change) => change.target.closest(".sk-note")).find((note) => note && note.textContent);
    if (answer) answer.scrollIntoView({ block: "nearest" });
    clearTimeout(settled);
    settled = setTimeout(() => letGo(model.widget_manager).catch(() => {}), SETTLED_MS); // what could not be made says so itself
  });
  const find = () => { // the screen around this button is there a moment after the button
    root = el.closest(".sk-screen");
    if (!root) { frame = requestAnimationFrame(find); return; }
    observer.observe(root, { childList: true, subtree: true, attributes: true, attributeFilter: ["class"] });
    root.addEventListener("click", asked);
    root.addEventListener("change", showSoon);
    resized.observe(root);
    for (const what of LEAVES) window.addEventListener(what, left, { passive: true });
    sized.observe(root);
    mend(root);
  };
  const left = () => { waits = false; };
  const asked = (event) => {
    waits = Boolean(event.target.closest(".jupyter-button"));
    const why = event.target.closest("[data-why]");
    if (why) model.send({ type: "why", about: why.dataset.why });
    const rows = event.target.closest(".sk-show-all");
    if (rows) {
      if (!open.delete(group_of(rows))) open.add(group_of(rows));
      mend(root);
    }
    const head = event.target.closest(".sk-sort")?.closest("th");
    if (!head) return;
    const table = head.closest("table");
    const [column, way] = sorted.get(table.dataset.name) || [];
    sorted.set(table.dataset.name, [head.cellIndex, column === head.cellIndex ? -way : 1]);
    sort(table);
  };
  const typing = (node) => node.matches("input, textarea, select, [contenteditable=true]");
  const pressed = (event) => {
    if (!root || event.ctrlKey || event.metaKey || event.altKey) return;
    const target = event.target;
    const inside = root.contains(target);
    const function_key = event.key === "F2" && (inside || target === document.body);
    const digit = /^[1-9]$/.test(event.key) && inside && !typing(target);
    if (inside && !function_key && target.matches("select, summary")) event.stopPropagation(); // arrows choose; the notebook would go to its next cell
    if (!function_key && !digit) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    model.send({ type: "key", key: event.key });
  };
  window.addEventListener("keydown", pressed, true); // before the notebook's own keys
  const received = (message, buffers) => {
    if (message.type !== "file") return;
    const url = URL.createObjectURL(new Blob([buffers[0]], { type: message.mime }));
    const link = document.createElement("a");
    link.href = url;
    link.download = message.name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(url), 10000);
  };
  model.on("msg:custom", received);
  model.on("change:label change:tip", name);
  find();
  return () => {
    observer.disconnect();
    sized.disconnect();
    resized.disconnect();
    clearTimeout(whole);
    cancelAnimationFrame(frame);
    clearTimeout(settled);
    window.removeEventListener("keydown", pressed, true);
    for (const what of LEAVES) window.removeEventListener(what, left);
    if (root) root.removeEventListener("click", asked);
    if (root) root.removeEventListener("change", showSoon);
    model.off("msg:custom", received);
    model.off("change:label change:tip", name);
  };
}

export default { render };
