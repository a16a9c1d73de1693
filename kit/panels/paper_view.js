// Shows a paper in its place; where the browser can't, or where it is no paper, the file goes to the downloads.
function render({ model, el }) {
  let url = "";
  const drop = () => {
    el.replaceChildren();
    if (url) URL.revokeObjectURL(url);
    url = "";
  };
  const link_to = (message) => {
    const link = document.createElement("a");
    link.href = url;
    link.download = message.name;
    link.className = "sk-link";
    link.textContent = `Download ${message.name}`;
    return link;
  };
  const received = (message, buffers) => {
    if (message.type === "clear") return drop();
    if (message.type !== "file") return undefined;
    drop();
    url = URL.createObjectURL(new Blob([buffers[0]], { type: message.mime }));
    const link = link_to(message);
    el.appendChild(link);
    if (!message.show || !navigator.pdfViewerEnabled) return link.click();
    const frame = document.createElement("iframe");
    frame.title = message.title;
    frame.className = "sk-paper";
    frame.src = `${url}#navpanes=0&pagemode=none&view=FitH`; // the whole width of the paper, without a list of its pages beside it
    el.appendChild(frame);
    return undefined;
  };
  model.on("msg:custom", received);
  return () => { drop(); model.off("msg:custom", received); };
}

export default { render };
