// The page at the table. The program plans; this shows what it answers, and
// sends what is typed, moved or chosen. Nothing is written before "Keep".
"use strict";
(() => {
  const $ = (id) => document.getElementById(id);
  const base = location.pathname;
  let at = { version: document.body.dataset.version, variant: document.body.dataset.variant, with: [], opening: "", closure: "", size: "" };
  let seen = at.version; // the newest version that the program told of
  let asked = 0, shown = 0, paperTimer = 0, fullTimer = 0;
  let writing = 0, broken = false;
  const unread = new Map(); // what was typed and cannot be read, by key, till it can

  const post = async (path, body, signal) => {
    const r = await fetch(base + path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body), signal });
    const text = await r.text();
    let out;
    try { out = JSON.parse(text); } catch { out = { says: text }; }
    if (!r.ok) throw Object.assign(new Error(out.says), { status: r.status });
    return out;
  };
  const request = (more) => Object.assign({ version: at.version, variant: at.variant, with: at.with, opening: at.opening, closure: at.closure, size: at.size }, more);

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
      const was = form.querySelector("details"), more = document.createElement("details"), head = document.createElement("summary"), rest = document.createElement("div");
      head.textContent = "More values: lengths, cloth, machine";
      more.open = Boolean(was && was.open); more.append(head, rest);
      const made = list.map((f) => {
        const label = document.createElement("label"), input = document.createElement("input"), wrong = document.createElement("span");
        const name = document.createElement("span");
        name.className = "name";
        label.append(name, " ", input, wrong);
        input.dataset.key = f.key; input.placeholder = f.hint; input.spellcheck = false;
        wrong.className = "wrong"; wrong.id = "wrong-" + f.key; wrong.setAttribute("role", "alert");
        input.setAttribute("aria-describedby", wrong.id);
        if (f.key.endsWith(".use")) label.className = "wide";
        if (f.more) rest.append(label);
        return label;
      });
      form.replaceChildren(...made.filter((label, i) => !list[i].more), ...(rest.childElementCount ? [more] : []));
    }
    for (const f of list) {
      const kept = unread.get(f.key);
      const input = form.querySelector(`input[data-key="${CSS.escape(f.key)}"]`);
      input.parentElement.classList.toggle("own", f.said);
      input.parentElement.firstElementChild.textContent = f.label;
      input.placeholder = f.hint;
      if (kept) { if (document.activeElement !== input) input.value = kept.value; wrongs(input, kept.says); }
      else if (document.activeElement !== input || !input.dataset.typed) { input.value = f.value; input.dataset.typed = ""; wrongs(input, ""); }
    }
  };
  const wrongs = (input, says) => {
    input.parentElement.querySelector(".wrong").textContent = says;
    input.setAttribute("aria-invalid", says ? "true" : "false");
  };

  // screen puts what to settle on the page; what is open stays open, and what
  // was typed there stays.
  const screen = (html) => {
    const of = (f) => [f.dataset.rule, f.dataset.closure, f.dataset.key].join("\n");
    const open = [...$("screen").querySelectorAll("details[open] summary")].map((s) => s.textContent);
    const typed = [...$("screen").querySelectorAll("form input")].map((i) => ({ form: of(i.form), value: i.value, focus: i === document.activeElement, from: i.selectionStart, to: i.selectionEnd }));
    $("screen").innerHTML = html;
    for (const s of $("screen").querySelectorAll("details summary")) if (open.includes(s.textContent)) s.parentElement.open = true;
    for (const i of $("screen").querySelectorAll("form input")) {
      const was = typed.find((t) => t.form === of(i.form) && (t.value || t.focus));
      if (!was) continue;
      i.value = was.value;
      const d = i.closest("details");
      if (d && was.value) d.open = true;
      if (was.focus) { i.focus(); i.setSelectionRange(was.from, was.to); }
    }
  };

  // variants are the choice of the file itself or one of its variants.
  const variants = (v) => {
    const select = $("variant"), names = v.variants.join("\n");
    if (select.dataset.names !== names) {
      select.replaceChildren(new Option("the file itself", ""), ...v.variants.map((n) => new Option(n, n)));
      select.dataset.names = names;
    }
    select.value = v.variant;
    select.closest("p").hidden = v.variants.length === 0;
    $("belongs").textContent = v.variant ? "What you keep is written for this variant alone." : "What you keep is written for all variants that do not say otherwise.";
    const address = base + (v.variant ? "?" + new URLSearchParams({ variant: v.variant }) : "");
    if (address !== location.pathname + location.search) history.replaceState(null, "", address);
  };

  // show puts an answer on the page; the focus stays where it was.
  const show = (v) => {
    const focus = document.activeElement, handle = focus && focus.closest && focus.closest(".handle");
    const held = focus && focus !== document.body;
    const back = handle && `.handle[data-closure="${CSS.escape(handle.dataset.closure)}"][data-row="${handle.dataset.row}"]`;
    at = { version: v.version, variant: v.variant, with: v.with, opening: v.opening, closure: v.closure, size: v.size };
    variants(v);
    seen = v.version;
    $("garment").textContent = v.garment;
    $("verdict").className = v.verdict;
    $("verdict").firstElementChild.textContent = v.verdict;
    $("verdict").lastElementChild.textContent = v.summary;
    $("picture").innerHTML = v.picture;
    $("moves").hidden = !$("picture").querySelector(".handle");
    if (v.screen) screen(v.screen);
    clearTimeout(fullTimer);
    $("screen").setAttribute("aria-busy", String(!v.screen));
    if (!v.screen) fullTimer = setTimeout(() => view(), 250);
    options($("opening"), v.openings, v.opening);
    options($("closure"), v.closures, v.closure);
    const sizes = $("sizes");
    sizes.replaceChildren(...v.sizes.map((z) => {
      const b = document.createElement("button");
      b.type = "button"; b.textContent = z; b.setAttribute("aria-pressed", String(z === v.size));
      b.addEventListener("click", () => {
        if ($("of").value) $("of").value = z; // its papers, unless those of all sizes were asked for
        view({ size: z });
      });
      return b;
    }));
    fields(v.fields);
    papers(v);
    $("legend").hidden = v.with.length === 0;
    $("trying").hidden = v.with.length === 0;
    $("effect").textContent = v.effect;
    $("into").textContent = v.into;
    $("lines").textContent = v.lines.join("\n");
    $("undo").hidden = !v.undo || v.with.length > 0;
    if (broken && !v.broken) quiet();
    broken = Boolean(v.broken);
    if (broken) tell("The file cannot be planned as it is now; what you see is from before. " + v.broken);
    if (v.gone) tell(v.gone + ". What you see is the file itself.");
    if (back) { const h = $("picture").querySelector(back); if (h) h.focus(); }
    else if (held && (!focus.isConnected || focus.offsetParent === null && !focus.ownerSVGElement)) (v.with.length ? $("trying-head") : $("screen")).focus();
    clearTimeout(paperTimer);
    paperTimer = setTimeout(paper, 400);
    document.body.dataset.version = v.version;
    document.body.dataset.shown = String(++shown);
  };

  // papers are the addresses of what is printed, of what is seen now.
  const papers = (v) => {
    const of = $("of"), names = ["", ...(v.sizes.length > 1 ? v.sizes : [])].join("\n");
    if (of.dataset.names !== names) {
      of.replaceChildren(new Option(v.sizes.length > 1 ? "all sizes" : "the garment", ""), ...(v.sizes.length > 1 ? v.sizes.map((z) => new Option("size " + z, z)) : []));
      of.dataset.names = names;
      of.value = v.sizes.length > 1 ? v.size : "";
    }
    $("unsettled").hidden = v.verdict !== "conflict";
    addresses();
  };
  const addresses = () => {
    for (const a of document.querySelectorAll("a[data-print]")) {
      const q = new URLSearchParams(at.with.map((w) => ["with", w]));
      if (at.variant) q.set("variant", at.variant);
      if ($("of").value) q.set("size", $("of").value);
      if ($("sheets").value) q.set("paper", $("sheets").value);
      a.href = base + "print/" + a.dataset.print + "?" + q;
    }
  };
  $("of").addEventListener("change", addresses);
  $("sheets").addEventListener("change", addresses);

  const paper = async () => {
    try { $("paper").innerHTML = (await post("paper", request())).html; } catch { /* told by the next view */ }
  };

  // What is asked goes one after another, each on top of what came before, so
  // that nothing typed is lost. A question that changes nothing gives way.
  let line = Promise.resolve(), resting = null;
  const newest = new Map();
  const inLine = (work) => { const mine = line.then(work); line = mine.catch(() => {}); return mine; };

  // view asks for the page as it would be.
  const view = (more, wrong, quick) => {
    const n = ++asked, same = more && (more.set ? "set " + more.set.key : more.move ? "move" : "");
    if (same) newest.set(same, n);
    clearTimeout(fullTimer);
    if (resting) resting.abort();
    return inLine(async () => {
      if (same ? newest.get(same) !== n : !more && n !== asked) return false;
      const gives = more ? null : new AbortController();
      resting = gives;
      try {
        show(await post("view", request(Object.assign({ quick: Boolean(quick) }, more)), gives && gives.signal));
        return true;
      } catch (e) {
        if (e.name === "AbortError") return false;
        $("variant").value = at.variant;
        if (wrong) wrong(e.message); else tell(e.message);
        if (n === asked && $("screen").getAttribute("aria-busy") === "true") fullTimer = setTimeout(() => view(), 250);
        return false;
      } finally {
        resting = null;
      }
    });
  };

  const write = (path, more) => {
    asked++; // what only asks gives way
    clearTimeout(fullTimer);
    if (resting) resting.abort();
    return inLine(async () => {
      writing++;
      try {
        const v = await post(path, request(more));
        quiet(); show(v); choices();
        return true;
      } catch (e) {
        if (e.status === 409) outside(); else tell(e.message);
        return false;
      } finally {
        writing--;
      }
    });
  };

  const outside = () => {
    if (at.with.length === 0) { view(); return; }
    tell("The file was changed by another program. Nothing of either is lost:",
      ["Keep my changes on top of it", () => view()],
      ["Drop my changes", () => view({ with: [] })]);
  };

  // choices are the best fasteners for the closure.
  const choices = async () => {
    try {
      const list = await post("choices", request());
      $("choices").replaceChildren(new Option(list.length ? "choose one of " + list.length : "none in the catalogue", ""), ...list.map((c) => new Option(c.name + ": " + c.about, c.name)));
    } catch { /* told by the view */ }
  };
  $("choices").addEventListener("change", (e) => {
    const use = document.querySelector("#fields .wide input");
    if (e.target.value && use) view({ set: { key: use.dataset.key, value: e.target.value } }, null, true);
  });

  // What is typed above.
  $("fields").addEventListener("submit", (e) => e.preventDefault());
  let start = null; // what was tried before the field was typed in
  $("fields").addEventListener("input", (e) => {
    const input = e.target;
    if (!input.dataset.typed || !start) start = inLine(async () => at.with);
    input.dataset.typed = "1";
    const value = input.value, before = start;
    const key = input.dataset.key;
    const answered = view({ set: { key, value } }, (says) => {
      unread.set(key, { value, says }); wrongs(input, says);
      // What an earlier letter said is not what was meant.
      before.then((was) => { if (newest.get("set " + key) === mine && String(was) !== String(at.with)) view({ with: was }, null, true); });
    }, true);
    const mine = newest.get("set " + key);
    answered.then((ok) => { if (ok) { unread.delete(key); wrongs(input, ""); } });
  });
  $("fields").addEventListener("focusout", (e) => { start = null; if (e.target.dataset.typed) { e.target.dataset.typed = ""; view(); } });

  // What is chosen at the right.
  $("screen").addEventListener("click", (e) => {
    const b = e.target.closest("button");
    if (!b) return;
    if (b.dataset.try) view({ add: JSON.parse(b.dataset.try) });
    if (b.dataset.keep) write("keep", { add: JSON.parse(b.dataset.keep) });
  });
  $("screen").addEventListener("submit", (e) => {
    e.preventDefault();
    const f = e.target;
    if (f.dataset.rule) write("settle", { rule: f.dataset.rule, closure: f.dataset.closure, because: f.elements.because.value });
    else view({ set: { key: f.dataset.key, value: f.elements.value.value } });
  });
  $("keep").addEventListener("click", () => write("keep"));
  $("drop").addEventListener("click", () => { unread.clear(); view({ with: [] }); });
  $("undo").addEventListener("click", () => write("undo"));
  $("opening").addEventListener("change", (e) => view({ opening: e.target.value, closure: "" }).then(choices));
  $("closure").addEventListener("change", (e) => view({ closure: e.target.value }).then(choices));
  $("variant").addEventListener("change", (e) => view({ variant: e.target.value }).then(choices));

  // A fastener moved by hand, or with the arrow keys by one step.
  const move = (h, mm) => view({ move: { closure: h.dataset.closure, row: Number(h.dataset.row), at_mm: mm } }, null, true);
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
  // A page that nobody sees does not listen: a browser keeps few lines open.
  let events = null, deaf = false;
  const listen = () => {
    if (document.hidden) { if (events) events.close(); events = null; return; }
    if (events) return;
    events = new EventSource(base + "events");
    events.onmessage = async (e) => {
      if (deaf || document.body.classList.contains("stopped")) { deaf = false; document.body.classList.remove("stopped"); quiet(); }
      while (writing) await new Promise((done) => setTimeout(done, 20)); // it may be our own
      if (e.data !== seen) { seen = e.data; outside(); }
    };
    events.onerror = async () => {
      if (events && events.readyState === EventSource.CLOSED) { await refused(); return; }
      document.body.classList.add("stopped");
      tell("The program has stopped, or cannot be reached. Start it again; the page goes on by itself if it comes back at this address.");
    };
  };
  // refused: it is there, and says why it does not let the page listen.
  const refused = async () => {
    events = null;
    const gives = new AbortController();
    try {
      const r = await fetch(base + "events", { signal: gives.signal });
      if (!r.ok && !deaf) { deaf = true; tell((await r.text()).trim()); }
      gives.abort();
    } catch { /* told when it is asked again */ }
    setTimeout(listen, 2000);
  };
  document.addEventListener("visibilitychange", listen);
  listen();

  view().then(choices);
})();
