// Report pages in headless Chromium. Usage: node report.mjs MODULES CHROMIUM FOLDER
// FOLDER has NAME.html, a page, beside NAME.json, what `detent check --format json` says of the same design: the
// values that the page shows while it is stepped through are held against that.
// Accessibility is judged by axe-core, by its own measure of what is serious.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";

const [modules, executablePath, folder] = process.argv.slice(2);
const require = createRequire(join(modules, "here.js"));
const { chromium } = require("playwright-core");
const axe = readFileSync(join(modules, "axe-core", "axe.min.js"), "utf8");

const wide = { viewport: { width: 1280, height: 900 } };
const phone = { viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true };
const mistakes = [];
let looked = 0;

function check(good, words) {
  looked += 1;
  if (!good) mistakes.push(words);
}

/** A page in a window of its own; what it says on the console or fetches is a mistake. */
async function open(browser, name, options) {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  const address = `file://${join(folder, `${name}.html`)}`;
  page.on("console", (message) => check(false, `${name}: the console says: ${message.text()}`));
  page.on("pageerror", (error) => check(false, `${name}: ${error.message}`));
  page.on("request", (request) => check(request.url() === address, `${name} asks for ${request.url()}`));
  await page.goto(address);
  return page;
}

/** What a run shows at this moment. */
function state(player) {
  return player.evaluate((root) => ({
    tick: Number(root.dataset.tick),
    clock: root.querySelector(".clock").textContent,
    told: root.querySelector(".told").textContent,
    spoken: root.querySelector("input").getAttribute("aria-valuetext"),
    cursor: Number(root.querySelector(".now").getAttribute("x")),
    rows: Object.fromEntries([...root.querySelectorAll(".names-row")].map((row) => [
      row.querySelector(".name").textContent, row.querySelector(".value").textContent])),
    nodes: Object.fromEntries([...root.querySelectorAll(".stage .node")].map((node) => [
      node.querySelector("title").textContent.split(",")[0] +
        (node.classList.contains("received") ? " received" : ""),
      { value: node.querySelector(".value").textContent, on: node.classList.contains("on") }])),
    current: root.querySelector(".story li[aria-current]")?.textContent ?? "",
    atEnd: root.classList.contains("at-end"),
  }));
}

/** The value of a signal in words, from the report for programs. */
function words(signal, value) {
  if (signal.kind === "condition") return signal.words[value ? 1 : 0];
  if (signal.kind === "position") return value;
  const number = value / 10 ** signal.decimals;
  return signal.unit ? `${number} ${signal.unit}` : `${number}`;
}

function valueAt(run, name, tick) {
  const spans = run.signals.find((one) => one.name === name).spans;
  return spans.find((span) => span.from <= tick && tick < span.from + span.ticks).value;
}

/** Every value that is shown, in the picture and beside the diagram, against the report for programs. */
function checkValues(shown, report, run, where) {
  let compared = 0;
  for (const signal of report.signals) {
    const expected = words(signal, valueAt(run, signal.name, shown.tick));
    const node = shown.nodes[signal.name];
    if (node) {
      check(node.value === expected, `${where}: ${signal.name} is ${node.value} in the picture, not ${expected}`);
      const on = signal.kind === "condition" ? valueAt(run, signal.name, shown.tick)
        : signal.kind === "position" && expected !== signal.words[0];
      check(node.on === on, `${where}: ${signal.name} is ${node.on ? "" : "not "}lit`);
      compared += 1;
    }
    const row = shown.rows[signal.name];
    if (row !== undefined) check(row === expected, `${where}: ${signal.name} is ${row} in the diagram, not ${expected}`);
  }
  check(compared >= report.signals.length - 1, `${where}: only ${compared} signals are in the picture`);
}

async function stepThrough(browser, name) {
  const report = JSON.parse(readFileSync(join(folder, `${name}.json`), "utf8"));
  const page = await open(browser, name, wide);
  const claims = report.verdicts.filter((verdict) => verdict.run);
  check(claims.length > 0, `${name} has no run`);
  for (const claim of claims) {
    const index = report.verdicts.indexOf(claim);
    const player = page.locator(`#run-${index}`);
    const slider = player.locator("input");
    const last = claim.run.ticks - 1;
    for (let tick = 0; tick <= last; tick += 1) {
      await slider.fill(String(tick));
      const shown = await state(player);
      check(shown.tick === tick, `${name}: the slider at ${tick} shows tick ${shown.tick}`);
      checkValues(shown, report, claim.run, `${name}, ${claim.claim}, tick ${tick}`);
      if (tick === last) check(shown.atEnd, `${name}: ${claim.claim} does not say that it ends`);
    }
  }
  await page.context().close();
}

async function useKeys(browser) {
  const page = await open(browser, "refuted", wide);
  const player = page.locator(".claim.bad .player").first();
  const slider = player.locator("input");
  await slider.focus();
  const begin = await state(player);
  check(begin.tick === 0 && begin.clock === "0 s, tick 0", "a run does not begin at tick 0");
  check(begin.told.includes("At power-up"), "the beginning is not told");

  await page.keyboard.press("ArrowRight");
  const event = await state(player);
  check(event.tick === 10, `the first event is tick 10, not ${event.tick}`);
  check(event.clock === "0.5 s, tick 10" && event.spoken === event.clock, "the time is not told");
  check(event.cursor > begin.cursor, "the cursor does not move");
  check(event.nodes.window.on && !begin.nodes.window.on, "the picture does not light up");
  check(event.rows.window === "on" && begin.rows.window === "off", "the values beside the diagram stay");
  check(event.told.includes("You move rudder to -100 %"), "what happens is not told");
  check(event.current.includes("0.5 s, tick 10"), "the story does not move along");

  await page.keyboard.press("Shift+ArrowRight");
  const tick = await state(player);
  check(tick.tick === 11, `with Shift it is one tick, not ${tick.tick - 10}`);
  check(tick.told.endsWith("Nothing changes in this tick."), "a quiet tick is not told");
  await page.keyboard.press("Shift+ArrowLeft");
  check((await state(player)).tick === 10, "Shift and left is not one tick back");
  await page.keyboard.press("End");
  const end = await state(player);
  check(end.tick === 71 && end.atEnd && end.told.includes("Here the claim breaks"), "the end is not told");
  await page.keyboard.press("ArrowRight");
  check((await state(player)).tick === 71, "a run goes on past its end");
  await page.keyboard.press("ArrowLeft");
  check((await state(player)).tick === 10, "left is not the event before");
  await page.keyboard.press("Home");
  check((await state(player)).tick === 0, "Home is not the beginning");

  for (const [label, expected] of [["One event on", 10], ["One tick on", 11], ["One tick back", 10],
    ["One event back", 0], ["To the end", 71], ["To the beginning", 0]]) {
    await player.getByRole("button", { name: label, exact: true }).click();
    check((await state(player)).tick === expected, `the button "${label}" does not lead to tick ${expected}`);
  }
  await player.getByRole("button", { name: "0.5 s, tick 10" }).click();
  check((await state(player)).tick === 10, "a time of the story does not lead there");
  const diagram = player.locator("svg.diagram");
  const box = await diagram.boundingBox();
  await diagram.click({ position: { x: box.width - 8, y: box.height / 2 } });
  check((await state(player)).tick === 71, "a click into the diagram does not lead there");

  await page.evaluate(() => document.activeElement.blur());
  await page.keyboard.press("ArrowLeft");
  check((await state(player)).tick === 10, "keys do nothing where nothing has the focus");
  await page.context().close();
}

/** Findings of axe-core that are serious or worse. */
async function checkAccess(browser, name, where, options) {
  const page = await open(browser, name, options);
  for (const moment of ["first", "last"]) {
    for (const button of await page.locator(`[data-go="${moment}"]`).all()) await button.evaluate((one) => one.click());
    await page.evaluate(axe);
    const found = await page.evaluate(() => globalThis.axe.run(document, {
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }));
    check(found.passes.length > 20, `${name}, ${where}: axe has looked at ${found.passes.length} rules only`);
    for (const one of found.violations) {
      const serious = one.impact === "serious" || one.impact === "critical";
      const places = one.nodes.slice(0, 3).map((node) => `${node.html.slice(0, 160)} ${node.failureSummary}`);
      const text = `${name}, ${where}, ${moment}: ${one.impact}: ${one.help}\n    ${places.join("\n    ")}`;
      if (serious) check(false, text);
      else console.log(`not serious: ${text}`);
    }
  }
  const [all, shown] = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
  check(all <= shown && shown === options.viewport.width, `${name}, ${where}: ${all} pixels wide in ${shown}`);
  await page.context().close();
}

async function withoutScript(browser) {
  const page = await open(browser, "refuted", { ...wide, javaScriptEnabled: false });
  check(await page.locator(".story").first().isVisible(), "without a script there is no story");
  check(await page.locator("svg.diagram").first().isVisible(), "without a script there is no diagram");
  check(!(await page.locator(".controls").first().isVisible()), "without a script there are buttons that do nothing");
  await page.context().close();
}

async function onPaper(browser) {
  const page = await open(browser, "refuted", wide);
  await page.emulateMedia({ media: "print" });
  await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
  for (const player of await page.locator(".player").all()) {
    check((await state(player)).atEnd, "on paper a run does not stand at its end");
    check(await player.locator(".story").isVisible(), "on paper a story is missing");
    check(await player.locator("svg.diagram").isVisible(), "on paper a diagram is missing");
    check(!(await player.locator(".controls").isVisible()), "on paper there are buttons");
    // Between the margins of A4 there are 184 mm, 695 pixels.
    check((await player.locator(".timing").evaluate((one) =>
      one.querySelector("svg").getBoundingClientRect().width)) < 695, "a diagram is wider than the paper");
  }
  check(await page.locator(".caution").isVisible(), "on paper the caution is missing");
  await page.evaluate(() => dispatchEvent(new Event("afterprint")));
  check((await state(page.locator(".player").first())).tick === 0, "after printing a run does not go back");
  check((await page.pdf({ format: "A4" })).length > 10000, "no paper");
  await page.context().close();
}

const browser = await chromium.launch({ executablePath, args: ["--no-sandbox"] });
try {
  for (const name of ["refuted", "proved", "ramp"]) await stepThrough(browser, name);
  await useKeys(browser);
  for (const name of ["refuted", "proved"]) {
    for (const colorScheme of ["light", "dark"]) {
      await checkAccess(browser, name, `wide and ${colorScheme}`, { ...wide, colorScheme });
      await checkAccess(browser, name, `phone and ${colorScheme}`, { ...phone, colorScheme });
    }
  }
  await withoutScript(browser);
  await onPaper(browser);
} finally {
  await browser.close();
}
for (const mistake of mistakes.slice(0, 30)) console.log(mistake);
console.log(`${looked} looked at, ${mistakes.length} wrong`);
if (mistakes.length === 0) console.log("all as it should be");
process.exitCode = mistakes.length === 0 ? 0 : 1;
