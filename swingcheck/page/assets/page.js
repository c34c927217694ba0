// The page: one swing angle, and everything that follows it.

const STEP_DEG = 0.1;
const JUMP_DEG = 5;
const CATCH_PX = 5; // a finger this near to the contact means the contact

const data = JSON.parse(document.getElementById("data").textContent);
const byId = (id) => document.getElementById(id);

function startPage() {
  const { colours } = data;
  const slider = byId("slider");
  let scene = null;
  let degrees = 0;
  let state = "";

  const view = slabView(byId("view"), colours);
  if (!view) {
    document.body.classList.add("no-view");
    byId("no-view").hidden = false;
  }
  const plan = planPanels(byId("panels"), byId("key"), byId("plan-height"), colours);
  const chart = clearanceChart(byId("chart"), byId("now"), colours, (share) => setShare(share));

  function turnTo(next) {
    degrees = Math.min(scene.high_deg, Math.max(0, next));
    const swing = swingAt(scene, degrees);
    if (view) view.turn(swing);
    plan.turn(swing);
    chart.turn(swing);
    figures(swing);
  }

  function figures(swing) {
    const opening = lengthText(openingAtStrike(scene, degrees), scene.unit);
    const words = stateText(scene, swing);
    slider.value = String(shareOf(scene, degrees));
    slider.setAttribute("aria-valuetext", `${degreesText(degrees)} degrees open, strike edge ${opening} from closed. ${words}`);
    byId("angle").textContent = `${degreesText(degrees)}\u00b0`;
    byId("angle").dataset.deg = String(degrees);
    byId("strike").textContent = `strike edge ${opening} out`;
    byId("nearest").textContent = words;
    byId("bar").dataset.state = swing.state;
    byId("now-caption").textContent = `At ${degreesText(degrees)}\u00b0`;
    if (swing.state !== state) {
      byId("said").textContent = swing.state === "free" ? "" : words;
      state = swing.state;
    }
  }

  // The slider and the chart take a share of their scale; near a contact, the contact itself.
  function setShare(share) {
    const rail = Math.max(1, slider.clientWidth - 44);
    const caught = scene.touches.find(
      (touch) => Math.abs(shareOf(scene, touch.angle_deg) - share) * rail < CATCH_PX,
    );
    turnTo(caught ? caught.angle_deg : degreesOf(scene, share));
  }

  // A step by key or button stops at a contact that lies on its way.
  function step(by) {
    const next = degrees + by;
    const between = (touch) =>
      by < 0
        ? touch.angle_deg < degrees - SAME_DEG && touch.angle_deg > next
        : touch.angle_deg > degrees + SAME_DEG && touch.angle_deg < next;
    const met = scene.touches.filter(between).map((touch) => touch.angle_deg);
    if (met.length) turnTo(by < 0 ? Math.max(...met) : Math.min(...met));
    else turnTo(Math.round(next / STEP_DEG) * STEP_DEG);
  }

  function marks() {
    const rail = byId("marks");
    rail.replaceChildren();
    for (const touch of scene.touches) {
      const mark = htmlElement("span", "", rail, touch.seated ? "mark seated" : "mark");
      mark.style.left = `${100 * shareOf(scene, touch.angle_deg)}%`;
    }
    const contact = contactOf(scene);
    byId("jump-contact").hidden = !contact;
    byId("jump-contact").textContent = contact && contact.seated ? "Seat" : "Contact";
    byId("jump-90").hidden = scene.high_deg <= 90;
    byId("look-contact").hidden = !scene.plan.views.some((each) => each.name === "contact");
  }

  const jumps = {
    closed: () => 0,
    contact: () => contactOf(scene).angle_deg,
    90: () => 90,
    wide: () => scene.high_deg,
  };

  function show(next, { keep = false } = {}) {
    scene = next;
    document.title = `${scene.title} - ${scene.verdict}`;
    byId("title").textContent = scene.title;
    byId("finding").textContent = scene.finding;
    byId("finding").className = scene.fit;
    byId("hand").textContent = `Hinges on the ${scene.hinges_on}, seen from the pull side.`;
    plan.show(scene);
    chart.show(scene);
    if (view) {
      view.show(scene, keep);
      if (!keep) cutPressed(false);
    }
    marks();
    exactness();
    if (!keep) turnTo(scene.shown_deg);
    else turnTo(state === "contact" && contactOf(scene) ? contactOf(scene).angle_deg : degrees);
  }

  function measured(clearance) {
    scene.clearance = clearance;
    chart.show(scene);
    exactness();
    turnTo(degrees);
  }

  function exactness() {
    const table = scene.clearance;
    const between = table && Math.ceil(table.between_in * 1e4) / 1e4;
    byId("exactness").textContent = table
      ? `Contact angles are exact. Clearances are exact at ${table.angles_deg.length} angles; between two of them they are read off a straight line, found to be within ${
          scene.unit === "mm" ? `${(between * MM_PER_INCH).toFixed(2)} mm` : `${between.toFixed(4)} in`
        }. Nothing farther than ${lengthText(table.within_in, scene.unit)} is measured.`
      : "";
  }

  function cutPressed(on) {
    byId("cut").setAttribute("aria-pressed", String(on));
  }

  slider.addEventListener("input", () => setShare(Number(slider.value)));
  slider.addEventListener("keydown", (event) => {
    const far = event.shiftKey ? 10 : 1;
    const acts = {
      ArrowLeft: () => step(-STEP_DEG * far),
      ArrowDown: () => step(-STEP_DEG * far),
      ArrowRight: () => step(STEP_DEG * far),
      ArrowUp: () => step(STEP_DEG * far),
      PageDown: () => step(-JUMP_DEG),
      PageUp: () => step(JUMP_DEG),
      Home: () => turnTo(0),
      End: () => turnTo(scene.high_deg),
    };
    if (!acts[event.key]) return;
    event.preventDefault();
    acts[event.key]();
  });
  byId("less").addEventListener("click", () => step(-STEP_DEG));
  byId("more").addEventListener("click", () => step(STEP_DEG));
  for (const button of document.querySelectorAll("[data-jump]"))
    button.addEventListener("click", () => turnTo(jumps[button.dataset.jump]()));
  for (const button of document.querySelectorAll("[data-look]"))
    button.addEventListener("click", () => view && cutPressed(view.lookAt(button.dataset.look)));
  byId("nearer").addEventListener("click", () => view && view.zoom(0.8));
  byId("farther").addEventListener("click", () => view && view.zoom(1.25));
  byId("cut").addEventListener("click", () => {
    const on = byId("cut").getAttribute("aria-pressed") !== "true";
    if (view) view.setCut(on);
    cutPressed(on);
  });

  window.addEventListener("beforeprint", () => {
    for (const folded of document.querySelectorAll("details")) folded.open = true;
    if (view) view.paint();
  });

  const chooser = byId("scene");
  function choose() {
    const k = chooser ? Number(chooser.value) : 0;
    for (const article of document.querySelectorAll(".reports"))
      article.hidden = Number(article.dataset.scene) !== k;
    show(data.scenes[k]);
  }
  if (chooser) chooser.addEventListener("change", choose);
  choose();
  return { show, measured };
}

const page = startPage();
