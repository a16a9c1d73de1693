// Text in a field that is not handed on yet is the person's: what is drawn anew meanwhile neither replaces nor loses it.
const TEXT = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, "value");
const LOST_MS = 2000; // a field that has not come back by then does not come back

function placeOf(node) {
  return [...(node.closest("[class*='sk-at:']")?.classList || [])].find((name) => name.startsWith("sk-at:")) || "";
}

function mindTyping(root, lost, left_in) { // `lost(place, text)`: the field is gone, this stood in it; `left_in`: the page is left with this in it
  let typing = null; // field, its place, its text, and what the program wanted to show there meanwhile

  const shield = (node) => Object.defineProperty(node, "value", {
    configurable: true,
    get: () => TEXT.get.call(node),
    set: (text) => { if (typing?.node === node) typing.meanwhile = text; else TEXT.set.call(node, text); },
  });
  const typed = (event) => {
    const node = event.target;
    if (node.tagName !== "INPUT" || !["text", "number"].includes(node.type) || !placeOf(node)) return;
    if (typing?.node !== node) { typing = { node, place: placeOf(node) }; shield(node); }
    typing.text = TEXT.get.call(node);
  };
  const finish = (node, show) => { // later: not where the field loses the cursor because it is taken off the page, nor where typing went on
    const handed_on = typing?.text;
    queueMicrotask(() => { if (typing?.node === node && typing.text === handed_on && node.isConnected) end(node, show); });
  };
  const end = (node, show) => {
    const meanwhile = typing.meanwhile;
    typing = null;
    delete node.value;
    if (show && meanwhile !== undefined) node.value = meanwhile;
  };
  const handed = (event) => finish(event.target, false);
  const left = (event) => finish(event.target, true);
  const restore = () => {
    if (!typing || typing.node.isConnected) return;
    const again = root.querySelector(`.${CSS.escape(typing.place)} input`);
    if (!again) {
      const gone = typing;
      gone.timer ??= setTimeout(() => { if (typing === gone) { typing = null; lost(gone.place.slice(6), gone.text); } }, LOST_MS);
      return;
    }
    const text = typing.text;
    typing = null;
    if (document.activeElement === document.body) again.focus({ preventScroll: true });
    if (TEXT.get.call(again) === text) return;
    if (document.activeElement === again) {
      again.select();
      document.execCommand("insertText", false, text); // as the person's own: Enter or leaving the field hands it on
    } else { // the person is elsewhere already
      again.value = text;
      again.dispatchEvent(new Event("change", { bubbles: true }));
    }
  };
  const away = () => { if (typing) left_in(typing.place.slice(6), typing.text); };
  const observer = new MutationObserver(restore);
  observer.observe(root, { childList: true, subtree: true });
  root.addEventListener("input", typed, true);
  root.addEventListener("change", handed, true);
  root.addEventListener("focusout", left, true);
  window.addEventListener("pagehide", away);
  return () => {
    window.removeEventListener("pagehide", away);
    observer.disconnect();
    root.removeEventListener("input", typed, true);
    root.removeEventListener("change", handed, true);
    root.removeEventListener("focusout", left, true);
  };
}
