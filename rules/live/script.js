// The page at the table. The program plans; this shows what it answers, and
// sends what is typed, moved or chosen. Nothing is written before "Keep".
"use strict";
(() => {
  const $ = (id) => document.getElementById(id);
  const base = location.pathname;
  let at = { version: document.body.dataset.version, with: [], opening: "", closure: "", size: "" };
  let seen = at.version; // the newest version that the program told of
  let asked = 0, shown = 0, paperTimer = 0;

  const post = async (path, body) => {
    const r = await fetch(base + path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
    const text = await r.text();
    let out;
    try { out = JSON.parse(text); } catch { out = { says: text }; }
    if (!r.ok) throw Object.assign(new Error(out.says), { status: r.status });
    return out;
  };
  const request = (more) => Object.assign({ version: at.version, with: at.with, opening: at.opening, closure: at.closure, size: at.size }, more);

  const tell = (says, ...buttons) => {
    const b = $("banner");
    b.replaceChildren(document.createTextNode(says + " "));
    for (const [name, does] of buttons) {
      const e = document.createElement("button");
      e.type = "button"; e.textContent = name;
      e.addEventListener("click", () => { quiet(); does(); });
      b.append(e, " ");
    }
    b.hidden = !says;
  };
  const quiet = () => { $("banner").hidden = true; $("banner").replaceChildren(); };

  const options = (select, names, now) => {
    if (select.dataset.names !== names.join("\n")) {
      select.replaceChildren(...names.map((n) => new Option(n, n)));
      select.dataset.names = names.join("\n");
    }
    select.value = now;
    select.parentElement.hidden = names.length < 2;
  };

  const fields = (list) => {
    const form = $("fields");
    const names = list.map((f) => f.key).join("\n");
    if (form.dataset.names !== names) {
      form.dataset.names = names;
      form.replaceChildren(...list.map((f) => {
        const label = document.createElement("label"), input = document.createElement("input"), wrong = document.createElement("span");
        label.append(f.label + " ", input, wrong);
        input.dataset.key = f.key; input.placeholder = f.hint; input.spellcheck = false;
        wrong.className = "wrong"; wrong.id = "wrong-" + f.key; wrong.setAttribute("role", "alert");
        input.setAttribute("aria-describedby", wrong.id);
        if (f.key.endsWith(".use")) { input.setAttribute("list", "choices"); label.className = "wide"; }
        return label;
      }));
    }
    for (const f of list) {
      const input = form.querySelector(`input[data-key="${CSS.escape(f.key)}"]`);
      input.parentElement.classList.toggle("own", f.said);
      if (document.activeElement !== input || !input.dataset.typed) { input.value = f.value; input.dataset.typed = ""; wrongs(input, ""); }
    }
  };
  const wrongs = (input, says) => {
    input.parentElement.querySelector(".wrong").textContent = says;
    input.setAttribute("aria-invalid", says ? "true" : "false");
  };

  // show puts an answer on the page; the focus stays where it was.
  const show = (v) => {
    const focus = document.activeElement, handle = focus && focus.closest && focus.closest(".handle");
    const back = handle && `.handle[data-closure="${CSS.escape(handle.dataset.closure)}"][data-row="${handle.dataset.row}"]`;
    at = { version: v.version, with: v.with, opening: v.opening, closure: v.closure, size: v.size };
    seen = v.version;
    $("garment").textContent = v.garment;
    $("verdict").className = v.verdict;
    $("verdict").firstElementChild.textContent = v.verdict;
    $("verdict").lastElementChild.textContent = v.summary;
    $("picture").innerHTML = v.picture;
    const open = [...$("screen").querySelectorAll("details[open] summary")].map((s) => s.textContent);
    $("screen").innerHTML = v.screen;
    for (const s of $("screen").querySelectorAll("details summary")) if (open.includes(s.textContent)) s.parentElement.open = true;
    options($("opening"), v.openings, v.opening);
    options($("closure"), v.closures, v.closure);
    const sizes = $("sizes");
    sizes.replaceChildren(...v.sizes.map((z) => {
      const b = document.createElement("button");
      b.type = "button"; b.textContent = z; b.setAttribute("aria-pressed", String(z === v.size));
      b.addEventListener("click", () => { at.size = z; view(); });
      return b;
    }));
    fields(v.fields);
    $("trying").hidden = v.with.length === 0;
    $("effect").textContent = v.effect;
    $("lines").textContent = v.lines.join("\n");
    $("undo").hidden = !v.undo || v.with.length > 0;
    if (v.broken) tell("The file cannot be planned as it is now; what you see is from before. " + v.broken);
    if (back) { const h = $("picture").querySelector(back); if (h) h.focus(); }
    clearTimeout(paperTimer);
    paperTimer = setTimeout(paper, 400);
    document.body.dataset.version = v.version;
    document.body.dataset.shown = String(++shown);
  };

  const paper = async () => {
    try { $("paper").innerHTML = (await post("paper", request())).html; } catch { /* told by the next view */ }
  };

  // view asks for the page as it would be; only the newest answer is shown.
  const view = async (more, wrong) => {
    const n = ++asked;
    try {
      const v = await post("view", request(more));
      if (n === asked) show(v);
      return true;
    } catch (e) {
      if (n !== asked) return false;
      if (wrong) wrong(e.message); else tell(e.message);
      return false;
    }
  };

  const write = async (path, more) => {
    try {
      show(await post(path, request(more)));
      quiet(); choices();
    } catch (e) {
      if (e.status === 409) outside(); else tell(e.message);
    }
  };

  const outside = () => {
    if (at.with.length === 0) { view(); return; }
    tell("The file was changed by another program. Nothing of either is lost:",
      ["Keep my changes on top of it", () => view()],
      ["Drop my changes", () => { at.with = []; view(); }]);
  };

  const choices = async () => {
    try {
      const r = await fetch(base + "choices?closure=" + encodeURIComponent(at.closure));
      const list = await r.json();
      $("choices").replaceChildren(...list.map((c) => new Option(c.about, c.name)));
    } catch { /* told by the events */ }
  };

  // What is typed above.
  $("fields").addEventListener("submit", (e) => e.preventDefault());
  $("fields").addEventListener("input", (e) => {
    const input = e.target;
    input.dataset.typed = "1";
    const value = input.value;
    view({ set: { key: input.dataset.key, value } }, (says) => wrongs(input, says)).then((ok) => { if (ok) wrongs(input, ""); });
  });
  $("fields").addEventListener("focusout", (e) => { if (e.target.dataset.typed) { e.target.dataset.typed = ""; view(); } });

  // What is chosen at the right.
  $("screen").addEventListener("click", (e) => {
    const b = e.target.closest("button");
    if (!b) return;
    if (b.dataset.try) { at.with = JSON.parse(b.dataset.try); view(); }
    if (b.dataset.keep) { at.with = JSON.parse(b.dataset.keep); write("keep"); }
  });
  $("screen").addEventListener("submit", (e) => {
    e.preventDefault();
    const f = e.target;
    if (f.dataset.rule) write("settle", { rule: f.dataset.rule, closure: f.dataset.closure, because: f.elements.because.value });
    else view({ set: { key: f.dataset.key, value: f.elements.value.value } });
  });
  $("keep").addEventListener("click", () => write("keep"));
  $("drop").addEventListener("click", () => { at.with = []; view(); });
  $("undo").addEventListener("click", () => write("undo"));
  $("opening").addEventListener("change", (e) => { at.opening = e.target.value; at.closure = ""; view().then(choices); });
  $("closure").addEventListener("change", (e) => { at.closure = e.target.value; view().then(choices); });

  // A fastener moved by hand, or with the arrow keys by one step.
  const move = (h, mm) => view({ move: { closure: h.dataset.closure, row: Number(h.dataset.row), at_mm: mm } });
  let held = null;
  $("picture").addEventListener("pointerdown", (e) => {
    const h = e.target.closest(".handle");
    if (!h) return;
    e.preventDefault(); h.focus(); h.setPointerCapture(e.pointerId);
    const svg = h.ownerSVGElement, unit = svg.getScreenCTM().d * Number(h.dataset.scale);
    held = { h, id: e.pointerId, y: e.clientY, from: Number(h.dataset.at), unit, now: Number(h.dataset.at) };
  });
  $("picture").addEventListener("pointermove", (e) => {
    if (!held || e.pointerId !== held.id) return;
    held.now = held.from + (e.clientY - held.y) / held.unit;
    held.h.setAttribute("transform", `translate(0 ${(held.now - held.from) * Number(held.h.dataset.scale)})`);
  });
  const letGo = (e) => {
    if (!held || e.pointerId !== held.id) return;
    const { h, now, from } = held;
    held = null;
    if (e.type === "pointerup" && Math.abs(now - from) > 0.2) move(h, now); else h.removeAttribute("transform");
  };
  $("picture").addEventListener("pointerup", letGo);
  $("picture").addEventListener("pointercancel", letGo);
  $("picture").addEventListener("keydown", (e) => {
    const h = e.target.closest(".handle");
    const by = { ArrowUp: -1, ArrowDown: 1, PageUp: -4, PageDown: 4 }[e.key];
    if (!h || !by) return;
    e.preventDefault();
    move(h, Number(h.dataset.at) + by * Number(h.dataset.step));
  });

  // The file as another program leaves it, and whether the program is there.
  const events = new EventSource(base + "events");
  events.onmessage = (e) => {
    if (document.body.classList.contains("stopped")) { document.body.classList.remove("stopped"); quiet(); }
    if (e.data !== seen) { seen = e.data; outside(); }
  };
  events.onerror = () => {
    document.body.classList.add("stopped");
    tell("The program has stopped, or cannot be reached. Start it again; the page goes on by itself if it comes back at this address.");
  };

  view().then(choices);
})();
