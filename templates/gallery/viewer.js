(() => {
  // On paper every photo is in view at once.
  addEventListener("beforeprint", () => document.querySelectorAll("img[loading]").forEach((one) => (one.loading = "eager")));
  const box = document.getElementById("look");
  const frames = [...document.querySelectorAll("a.frame[id]")];
  if (!box || !box.showModal || !frames.length) return;
  const inside = (name) => box.querySelector("." + name);
  const [stage, sheet, place, caption, about, list, none] =
    ["stage", "sheet", "place", "cap", "about", "list", "none"].map(inside);
  const only = document.getElementById("only-findings");
  const marked = document.getElementById("with-marks");
  const buttons = Object.fromEntries([...box.querySelectorAll("[data-do]")].map((one) => [one.dataset.do, one]));
  const figure = (frame) => frame.closest("figure");
  const numbers = (frame) => (figure(frame).dataset.findings || "").split(" ").filter(Boolean);
  const filled = (words, slots) => words.replace(/\{(\w+)\}/g, (all, name) => slots[name] ?? all);
  const within = (value, least, most) => Math.min(most, Math.max(least, value));

  // The picture on the stage: `size` is CSS pixels for one pixel of the file, `x` and `y` how far its middle is moved.
  let now = 0, size = 0, x = 0, y = 0, wide = 1, high = 1, pushed = false;
  const onward = () => (document.dir === "rtl" ? -1 : 1);
  const whole = () => Math.min(1, stage.clientWidth / wide, stage.clientHeight / high);
  const large = () => size > whole() * 1.001;

  const lay = () => {
    size = within(size, whole(), 1);
    const room = [wide * size - stage.clientWidth, high * size - stage.clientHeight].map((one) => Math.max(0, one / 2));
    x = within(x, -room[0], room[0]);
    y = within(y, -room[1], room[1]);
    sheet.style.width = wide * size + "px";
    sheet.style.height = high * size + "px";
    sheet.style.translate = `calc(-50% + ${x}px) calc(-50% + ${y}px)`;
    stage.classList.toggle("large", large());
    able("smaller", large());
    able("whole", large());
    able("larger", size < 1);
  };
  const able = (name, can) => buttons[name].setAttribute("aria-disabled", String(!can));
  const zoom = (to, at = [0, 0]) => {
    const before = size;
    size = within(to, whole(), 1);
    x = at[0] - ((at[0] - x) * size) / before;
    y = at[1] - ((at[1] - y) * size) / before;
    lay();
  };
  const entire = () => { size = x = y = 0; lay(); };
  const near = (mark) => {
    const [left, top, width, height] = ["--x", "--y", "--w", "--h"].map((name) => +mark.style.getPropertyValue(name) || 0);
    const closest = Math.min(stage.clientWidth / wide / Math.max(width, 0.2), stage.clientHeight / high / Math.max(height, 0.2));
    size = within(closest * 0.6, whole(), 1);
    x = (0.5 - left - width / 2) * wide * size;
    y = (0.5 - top - height / 2) * high * size;
    lay();
  };

  // Which photo: only those with findings where the reader asked for them; the ends are ends.
  const walk = () => (only.checked ? frames.filter((one) => numbers(one).length) : frames);
  const beside = (by) => walk().filter((one) => (frames.indexOf(one) - now) * by > 0).at(by > 0 ? 0 : -1);
  const show = (to) => {
    now = to;
    const frame = frames[now];
    const small = frame.querySelector("img");
    [wide, high] = [+small.getAttribute("width"), +small.getAttribute("height")];
    const img = new Image(wide, high);
    img.alt = small.alt;
    img.draggable = false;
    img.src = frame.href;
    if (small.complete) sheet.style.backgroundImage = `url("${small.currentSrc}")`;
    sheet.replaceChildren(img, ...[...frame.querySelectorAll(".mark")].map((one) => one.cloneNode(true)));
    caption.textContent = figure(frame).querySelector(".cap-text").textContent.trim();
    about.textContent = (figure(frame).querySelector(".cap .small") || { textContent: "" }).textContent.trim();
    tell(frame);
    position();
    entire();
    if (beside(1)) new Image().src = beside(1).href;
  };
  const tell = (frame) => {
    const told = numbers(frame).map((number) => document.querySelector(`article.finding[data-finding="${number}"]`));
    list.replaceChildren(...told.filter(Boolean).map((article) => {
      const copy = article.cloneNode(true);
      copy.removeAttribute("id");
      const number = article.dataset.finding;
      const mark = [...sheet.querySelectorAll(".mark")].find((one) => one.dataset.finding === number);
      if (mark) {
        const sign = copy.querySelector(".num");
        const button = Object.assign(document.createElement("button"), { type: "button", className: sign.className, textContent: number });
        button.setAttribute("aria-label", filled(list.dataset.near, { number }));
        button.onclick = () => near(mark);
        sign.replaceWith(button);
      }
      return copy;
    }));
    none.hidden = told.length > 0;
    inside("told").scrollTop = 0;
  };
  const position = () => {
    const round = walk();
    const at = round.indexOf(frames[now]);
    const number = figure(frames[now]).querySelector(".no").lastChild.textContent.trim();
    const some = only.checked && at >= 0;
    const slots = { number, at: at + 1, all: some ? round.length : place.dataset.total };
    place.textContent = filled(some ? place.dataset.only : place.dataset.all, slots);
    able("before", Boolean(beside(-1)));
    able("after", Boolean(beside(1)));
    buttons.marks.setAttribute("aria-pressed", String(marked.checked));
    buttons.only.setAttribute("aria-pressed", String(only.checked));
  };
  const go = (to) => {
    if (to < 0 || to === now) return;
    show(to);
    address("replaceState", frames[to].id);
  };
  const step = (by) => go(frames.indexOf(beside(by)));
  const end = (last) => go(frames.indexOf(walk().at(last ? -1 : 0)));
  const filter = () => {
    if (only.disabled) return;
    only.click();
    if (!walk().includes(frames[now])) go(frames.indexOf(beside(1) || beside(-1)));
    position();
  };
  const marks = () => { marked.click(); position(); };

  // The address names the photo, so that it can be sent on; Back closes the close view.
  const address = (how, id) => {
    try { history[how](null, "", "#" + id); } catch { if (how === "replaceState") location.replace("#" + id); else location.hash = id; }
  };
  const named = () => frames.findIndex((one) => "#" + one.id === location.hash);
  const open = (to) => {
    if (!box.open) { box.showModal(); buttons.after.focus(); }
    show(to);
  };
  const follow = () => {
    const to = named();
    if (to >= 0) { if (!box.open || to !== now) open(to); } else if (box.open) box.close(); else back();
  };
  let returning = null;
  const back = () => { if (returning) { returning.focus(); returning = null; } };
  box.onclose = () => {
    returning = figure(frames[now]).checkVisibility?.() === false ? only : frames[now];
    if (named() < 0) back();
    else if (pushed) history.back();
    else { address("replaceState", figure(frames[now]).id); back(); }
    pushed = false;
  };
  addEventListener("hashchange", follow);

  document.addEventListener("click", (event) => {
    const frame = event.target.closest("a.frame");
    const held = event.ctrlKey || event.metaKey || event.shiftKey || event.altKey || event.button;
    const to = frame && !held ? frames.findIndex((one) => one.id === figure(frame).dataset.look) : -1;
    if (to < 0) return;
    event.preventDefault();
    address("pushState", frames[to].id);
    pushed = true;
    open(to);
  });

  const acts = {
    before: () => step(-1), after: () => step(1), larger: () => zoom(size * 1.5), smaller: () => zoom(size / 1.5),
    whole: entire, marks, only: filter, close: () => box.close(),
  };
  box.addEventListener("click", (event) => {
    const button = event.target.closest("[data-do]");
    if (button && button.getAttribute("aria-disabled") !== "true") acts[button.dataset.do]();
  });
  const arrow = (dx, dy) => {
    if (large()) { x -= (dx * stage.clientWidth) / 6; y -= (dy * stage.clientHeight) / 6; lay(); } else if (dx) step(dx * onward());
  };
  const keys = {
    ArrowLeft: () => arrow(-1, 0), ArrowRight: () => arrow(1, 0), ArrowUp: () => arrow(0, -1), ArrowDown: () => arrow(0, 1),
    PageUp: acts.before, PageDown: acts.after, Home: () => end(false), End: () => end(true),
    "+": acts.larger, "=": acts.larger, "-": acts.smaller, 0: entire, 1: () => zoom(1), m: marks, f: filter,
  };
  document.addEventListener("keydown", (event) => {
    if (!box.open) return;
    const act = keys[event.key.length === 1 ? event.key.toLowerCase() : event.key];
    if (!act || event.ctrlKey || event.metaKey || event.altKey) return;
    if (/^(Arrow(Up|Down)|Page|Home|End)/.test(event.key) && !large() && event.target === inside("told")) return;
    event.preventDefault();
    act();
  });

  // Fingers and mouse: one moves or swipes, two pinch, a double tap goes near and back, the wheel turns the size.
  const down = new Map();
  let start = null, tapped = null;
  const from = (event) => {
    const area = stage.getBoundingClientRect();
    return [event.clientX - area.left - area.width / 2, event.clientY - area.top - area.height / 2];
  };
  const span = () => {
    const [one, other] = [...down.values()];
    return other ? Math.hypot(one[0] - other[0], one[1] - other[1]) : 0;
  };
  const begin = () => { start = { points: [...down.values()], size, x, y, span: span() }; };
  stage.addEventListener("pointerdown", (event) => {
    if (event.button) return;
    stage.setPointerCapture(event.pointerId);
    down.set(event.pointerId, from(event));
    begin();
    start.moved = down.size > 1;
  });
  stage.addEventListener("pointermove", (event) => {
    if (!down.has(event.pointerId)) return;
    down.set(event.pointerId, from(event));
    const points = [...down.values()];
    const middle = (all, axis) => all.reduce((sum, one) => sum + one[axis], 0) / all.length;
    const moved = [0, 1].map((axis) => middle(points, axis) - middle(start.points, axis));
    if (Math.hypot(...moved) > 8 || points.length > 1) start.moved = true;
    [size, x, y] = [start.size, start.x, start.y];
    if (points.length > 1) {
      zoom((start.size * span()) / start.span, [0, 1].map((axis) => middle(start.points, axis)));
    } else if (!large()) return;
    x += moved[0];
    y += moved[1];
    lay();
  });
  const up = (event) => {
    const point = down.get(event.pointerId);
    if (!point) return;
    down.delete(event.pointerId);
    if (down.size) { begin(); start.moved = start.pinched = true; return; }
    const [dx, dy] = [0, 1].map((axis) => point[axis] - start.points[0][axis]);
    if (event.type === "pointercancel" || start.pinched) return;
    if (start.moved) {
      tapped = null;
      if (!large() && start.points.length === 1 && Math.abs(dx) > 48 && Math.abs(dx) > 1.5 * Math.abs(dy)) step(dx < 0 ? onward() : -onward());
    } else if (tapped && event.timeStamp - tapped.at < 350 && Math.hypot(tapped.point[0] - point[0], tapped.point[1] - point[1]) < 32) {
      tapped = null;
      if (large()) entire(); else zoom(whole() * 3, point);
    } else tapped = { at: event.timeStamp, point };
  };
  stage.addEventListener("pointerup", up);
  stage.addEventListener("pointercancel", up);
  stage.addEventListener("wheel", (event) => {
    event.preventDefault();
    zoom(size * Math.exp(-event.deltaY / (event.deltaMode ? 12 : 400)), from(event));
  }, { passive: false });
  addEventListener("resize", () => { if (box.open) lay(); });

  // On the page: what a reader was looking at stays in view when the filter shortens or lengthens it.
  only.addEventListener("change", () => {
    if (box.open) return;
    const figures = [...document.querySelectorAll(".chapter figure[data-look]")];
    only.checked = !only.checked;
    const seen = figures.findIndex((one) => one.offsetParent && one.getBoundingClientRect().bottom > 120);
    const above = seen >= 0 && figures[seen].getBoundingClientRect().top < innerHeight / 2;
    only.checked = !only.checked;
    const there = figures.slice(seen).find((one) => one.offsetParent);
    if (above && there) there.scrollIntoView({ block: "start" });
  });
  // Where an address opens a photo, the browser looks for its frame after us and takes the focus away.
  const refocus = () => { if (box.open && !box.contains(document.activeElement)) buttons.after.focus(); };
  if (named() >= 0) open(named());
  addEventListener("load", () => setTimeout(refocus));
})();
