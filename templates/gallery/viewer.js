(() => {
  const frames = [...document.querySelectorAll("a.frame")];
  if (!frames.length || !window.HTMLDialogElement) return;
  const make = (tag, name, text) => Object.assign(document.createElement(tag), { className: name, textContent: text });
  const box = make("dialog", "viewer", "");
  const hold = make("div", "frame", "");
  const words = make("p", "", "");
  const bar = make("div", "bar", "");
  const keys = make("div", "keys", "");
  let now = 0;
  const show = (to) => {
    now = (to + frames.length) % frames.length;
    const from = frames[now];
    const img = new Image();
    img.src = from.href;
    img.alt = from.querySelector("img").alt;
    hold.replaceChildren(img, ...[...from.querySelectorAll(".mark")].map((mark) => mark.cloneNode(true)));
    const figure = from.closest("figure");
    hold.style.setProperty("--a", figure.style.getPropertyValue("--a"));
    const number = figure.querySelector(".no").textContent.trim();
    words.textContent = number + "  " + figure.querySelector(".cap-text").textContent.trim();
  };
  const key = (text, label, act) => {
    const button = make("button", "", text);
    button.type = "button";
    button.setAttribute("aria-label", label);
    button.onclick = act;
    keys.append(button);
  };
  key("←", "Photo before", () => show(now - 1));
  key("→", "Photo after", () => show(now + 1));
  key("Close", "Close", () => box.close());
  box.setAttribute("aria-label", "One photo, large");
  words.setAttribute("aria-live", "polite");
  bar.append(words, keys);
  box.append(hold, bar);
  document.addEventListener("keydown", (event) => {
    if (!box.open) return;
    const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    if (step) { event.preventDefault(); show(now + step); }
  });
  box.onclose = () => frames[now].focus();
  document.body.append(box);
  frames.forEach((frame, at) => frame.addEventListener("click", (event) => {
    if (event.ctrlKey || event.metaKey || event.shiftKey || event.button) return;
    event.preventDefault();
    show(at);
    box.showModal();
    keys.lastChild.focus();
  }));
})();
