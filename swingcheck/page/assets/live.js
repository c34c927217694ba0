// Dials: each turn is checked anew by the server, and everything follows its answer.

const REST_MS = 250; // nothing turned for this long: clearances, cures and shop numbers follow

function dialText(dial, values) {
  const texts = values.map((value) => {
    if (dial.unit === "in" && Math.abs(value * 64 - Math.round(value * 64)) < 1e-6) return fractionText(value);
    return String(Number(value.toFixed(4)));
  });
  return texts.join(", ");
}

async function ask(path, turned) {
  const answer = await fetch(path, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(turned),
  });
  if (answer.status === 409) {
    // Another page of the same server asked later: try again, with the dials as they are by then.
    await new Promise((done) => setTimeout(done, REST_MS));
    return ask(path, turned);
  }
  if (!answer.ok) throw new Error(await answer.text());
  return answer.json();
}

function startDials() {
  const turned = {};
  const rows = data.dials.map((dial) => dialRow(dial));
  let busy = false;
  let waiting = false;
  let since = 0;
  let rest = 0;
  byId("dials").replaceChildren(...rows.map((row) => row.element));

  function dialRow(dial) {
    const element = htmlElement("div", "", null, "dial");
    const id = `dial-${dial.key.replace(/\./g, "-")}`;
    const label = htmlElement("label", `${dial.label},\u00a0${dial.unit === "deg" ? "degrees" : dial.unit}`, element);
    label.htmlFor = id;
    const text = htmlElement("input", "", element);
    Object.assign(text, { type: "text", id, autocomplete: "off", spellcheck: false });
    text.dataset.key = dial.key;
    const turn = htmlElement("div", "", element, "turn");
    const less = button(turn, "\u2212", `Less: ${dial.label}`);
    const range = htmlElement("input", "", turn);
    Object.assign(range, { type: "range", min: dial.low, max: dial.high, step: dial.step });
    range.setAttribute("aria-label", dial.label);
    const more = button(turn, "+", `More: ${dial.label}`);

    // The dial's own place is its first value's; the others keep their distance from it.
    function put(first) {
      const steps = Math.round((first - dial.low) / dial.step);
      const near = Math.abs(dial.low + steps * dial.step - first) < dial.step / 1000 ? first : snapped(first);
      range.value = String(near);
      text.value = dialText(dial, dial.values.map((value) => value + near - dial.values[0]));
      range.setAttribute("aria-valuetext", `${text.value} ${dial.unit === "deg" ? "degrees" : dial.unit}`);
    }
    const snapped = (value) => Math.round(value / dial.step) * dial.step;
    const place = () => Number(range.value);
    function nudge(by) {
      put(Math.min(dial.high, Math.max(dial.low, snapped(place() + by * dial.step))));
      change();
    }
    function change() {
      turned[dial.key] = text.value;
      check();
    }
    less.addEventListener("click", () => nudge(-1));
    more.addEventListener("click", () => nudge(1));
    range.addEventListener("input", () => {
      put(snapped(place()));
      change();
    });
    text.addEventListener("change", change);
    function reset() {
      range.value = String(dial.values[0]);
      text.value = dialText(dial, dial.values);
      delete turned[dial.key];
    }
    reset();
    return { element, reset };
  }

  function button(parent, words, label) {
    const made = htmlElement("button", words, parent);
    made.type = "button";
    made.setAttribute("aria-label", label);
    return made;
  }

  // One check at a time; what was turned meanwhile is checked next, the latest only.
  async function check() {
    clearTimeout(rest);
    byId("saved").textContent = "";
    if (busy) {
      waiting = true;
      return;
    }
    busy = true;
    since = performance.now();
    try {
      do {
        waiting = false;
        redraw(await ask("check", turned));
      } while (waiting);
    } catch (error) {
      bad(`Not checked: ${error.message}`);
    }
    busy = false;
    rest = setTimeout(measure, REST_MS);
  }

  function redraw(found) {
    if (found.error) {
      bad(found.error);
      return;
    }
    bad("");
    page.show(found, { keep: true });
    document.querySelector(".report .card").innerHTML = found.report;
    document.body.classList.add("measuring");
    document.querySelector(".report .said").textContent = found.finding;
    const took = performance.now() - since;
    since = performance.now();
    byId("took").textContent = `Checked again and redrawn in ${Math.round(took)} ms.`;
    byId("took").dataset.ms = String(took);
  }

  async function measure() {
    const asked = JSON.stringify(turned);
    const stale = () => busy || !byId("bad").hidden || asked !== JSON.stringify(turned);
    try {
      if (stale()) return;
      const clearance = await ask("clearance", JSON.parse(asked));
      if (stale() || clearance.error) return;
      page.measured(clearance);
      const found = await ask("cards", JSON.parse(asked));
      if (stale() || found.error) return;
      document.querySelector(".report .card").innerHTML = found.report;
      document.querySelector(".report .said").textContent = found.finding;
      byId("finding").textContent = found.finding;
      byId("finding").className = found.fit;
      document.querySelector(".shop .card").innerHTML = found.shop;
      document.querySelector(".shop .said").textContent = found.cut;
      document.body.classList.remove("measuring");
      document.body.dataset.measured = asked;
    } catch (error) {
      bad(`Not measured: ${error.message}`);
    }
  }

  function bad(words) {
    byId("bad").textContent = words;
    byId("bad").hidden = !words;
    document.body.classList.toggle("stale", Boolean(words));
  }

  byId("save").addEventListener("click", async () => {
    try {
      const found = await ask("save", turned);
      byId("saved").textContent = found.error ? "" : `Saved: ${found.file}`;
      if (found.error) bad(found.error);
    } catch (error) {
      bad(`Not saved: ${error.message}`);
    }
  });
  byId("reset").addEventListener("click", () => {
    for (const row of rows) row.reset();
    check();
  });
}

// What went wrong stands under the verdict, which stays in sight while dials are turned.
byId("finding").after(byId("bad"));
document.body.classList.add("live");
startDials();
