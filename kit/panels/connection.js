// Is the program behind the page still there? If not: say so, lock the fields, and keep what was typed last in this browser.
const OURS = "sinkset-typed:";
const REMEMBERED_MS = 2000; // an entry of the last moments may not have arrived before a copy was kept
const PAGE = Math.random().toString(36).slice(2);

function tabName() { // survives a reload of this tab
  let name = sessionStorage.getItem("sinkset-tab");
  if (!name) {
    name = Math.random().toString(36).slice(2);
    sessionStorage.setItem("sinkset-tab", name);
  }
  return name;
}

function read(key) {
  try { return JSON.parse(localStorage.getItem(key)) || {}; } catch { return {}; }
}

function write(key, entries) {
  try {
    if (Object.keys(entries).length) localStorage.setItem(key, JSON.stringify(entries));
    else localStorage.removeItem(key);
  } catch { /* a browser that keeps nothing: nothing can be offered back */ }
}

function holdWindow(name, taken) { // a duplicated tab has the address of the first, which says so to it
  const line = new BroadcastChannel(`sinkset-window:${name}`);
  line.onmessage = ({ data }) => {
    if (data.has === PAGE) taken();
    else if (data.asks && data.asks !== PAGE) line.postMessage({ has: data.asks });
  };
  line.postMessage({ asks: PAGE });
  return () => line.close();
}

function returnToTop(root) { // in the Lab, Run All ends at the last cell: back to the screen, unless the person went elsewhere meanwhile
  const panel = root.closest(".jp-NotebookPanel");
  const page = panel?.querySelector(".jp-WindowedPanel-outer");
  if (!page) return () => {};
  const kinds = ["wheel", "pointerdown", "touchstart", "keydown"];
  let quiet = 0;
  const stop = () => {
    clearInterval(looking);
    for (const kind of kinds) window.removeEventListener(kind, stop, true);
  };
  const looking = setInterval(() => {
    quiet = panel.querySelector('.jp-NotebookPanel-toolbar [data-status="idle"]') ? quiet + 1 : 0;
    if (quiet < 4) return;
    page.scrollTop = 0;
    stop();
  }, 250);
  for (const kind of kinds) window.addEventListener(kind, stop, true);
  return stop;
}

function render({ model, el }) {
  const manager = model.widget_manager;
  const kernel = manager?.kernel;
  const inLab = Boolean(manager?.context);
  const place = `${OURS}${inLab ? manager.context.path : location.pathname}:`;
  let own = place + tabName();
  const banner = document.createElement("div");
  banner.className = "sk-lost";
  banner.setAttribute("role", "alert");
  banner.hidden = true;
  el.appendChild(banner);
  let root = null;
  let frame = 0;
  let ended = false;
  let forget = () => {};
  let stay = () => {};
  let release = () => {};

  const lock = (locked) => {
    for (const row of root ? root.children : []) if (!row.contains(el)) row.inert = locked;
  };
  const say = (sentence) => {
    if (!sentence) { banner.hidden = true; banner.textContent = ""; lock(false); return; }
    banner.hidden = false;
    if (banner.dataset.said !== sentence) {
      banner.dataset.said = sentence;
      banner.textContent = sentence;
      if (ended && !inLab) {
        const again = document.createElement("button");
        again.type = "button";
        again.className = "jupyter-button widget-button sk-button";
        again.textContent = "Reload the page";
        again.onclick = () => location.reload();
        banner.append(" ", again);
      }
    }
    lock(true);
  };
  const lost = () => {
    if (!ended) say("The connection is lost. Nothing can be typed until it is back; it keeps trying. Your job is kept as it was. If it does not come back, restart the pages, then reload.");
  };
  const gone = () => {
    ended = true;
    say(`The program behind this page has ended. ${inLab ? "Choose Run > Run All Cells" : "Reload the page"}: your job comes back as it was kept, and you are offered what you typed last.`);
  };
  const there = () => { if (!ended) say(""); };

  const connection = (_, status) => {
    if (ended) return;
    if (status === "connected") model.send({ type: "there?" }); // the same program, or a new one that knows nothing of this page
    else if (status === "disconnected") gone();
    else lost();
  };
  const state = (_, status) => {
    if (["dead", "restarting", "autorestarting", "terminating"].includes(status)) gone();
  };
  const remember = (field, text) => write(own, { ...read(own), [field]: { text, at: Date.now(), file: model.get("file") } });
  const typed = (event) => {
    const at = event.target.dataset.at || placeOf(event.target);
    if (!at || event.target.type === "range") return;
    remember(at.slice(6), event.target.tagName === "SELECT" ? event.target.selectedOptions[0]?.textContent : event.target.value);
  };
  const forgetOlder = () => {
    const until = Date.now() - REMEMBERED_MS;
    const entries = read(own);
    write(own, Object.fromEntries(Object.entries(entries).filter(([, entry]) => entry.at > until)));
  };
  const stale = () => Object.keys(localStorage).filter((key) => key.startsWith(place));
  const offer = () => { // what another tab has just typed is that tab's own
    const entries = {};
    for (const key of stale()) {
      for (const [field, entry] of Object.entries(read(key))) if (key === own || Date.now() - entry.at > 10000) entries[field] = entry;
    }
    if (Object.keys(entries).length) model.send({ type: "typed", entries });
  };
  const received = (message) => {
    if (message.type === "there") there();
    if (message.type === "offered") for (const key of stale()) write(key, {});
  };

  const find = () => {
    root = el.closest(".sk-screen");
    if (!root) { frame = requestAnimationFrame(find); return; }
    root.addEventListener("change", typed, true);
    stay = returnToTop(root);
    forget = mindTyping(root, (field, text) => { remember(field, text); offer(); }, remember);
    offer();
    hold();
  };
  const hold = () => {
    const name = model.get("window");
    if (!name || inLab) return;
    const address = new URL(location.href);
    address.searchParams.set("window", name);
    history.replaceState(history.state, "", address);
    release();
    release = holdWindow(name, () => {
      release();
      sessionStorage.removeItem("sinkset-tab"); // it was duplicated with the tab
      own = place + tabName();
      model.send({ type: "taken" });
    });
  };
  kernel?.connectionStatusChanged?.connect(connection);
  kernel?.statusChanged?.connect(state);
  model.on("msg:custom", received);
  model.on("change:copies", forgetOlder);
  model.on("change:window", hold);
  find();
  return () => {
    cancelAnimationFrame(frame);
    kernel?.connectionStatusChanged?.disconnect(connection);
    kernel?.statusChanged?.disconnect(state);
    model.off("msg:custom", received);
    model.off("change:copies", forgetOlder);
    model.off("change:window", hold);
    release();
    forget();
    stay();
    if (root) root.removeEventListener("change", typed, true);
  };
}

export default { render };
