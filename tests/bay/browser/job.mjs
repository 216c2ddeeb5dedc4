// A whole job at the page: by taps on a phone and a tablet, by the keyboard alone on a laptop; every kind of screen is looked at once.
// Arguments: the address with its key, `long` or `short`, a folder for pictures.
import { axe, browser, device, SIZES, THEMES } from "./open.mjs";
import { largest, measured } from "./seen.mjs";
import { Walk } from "./walk.mjs";
import { join } from "node:path";

const [address, extent, pictures] = process.argv.slice(2);
const faults = [];
const chrome = await browser();
// What was found so far is told also where the way breaks off.
process.on("uncaughtException", (error) => {
  console.log([...new Set(faults)].join("\n"));
  console.log(error.stack);
  process.exit(1);
});

// What is typed, by the name of the reading: the belt is slack, is set, and the voltage is in band or too high.
const SLACK = ["49.2", "50.1", "49.5", "61.9", "62.3", "62.1"];
const each = process.env.DWELL_SIZES
  ? process.env.DWELL_SIZES.split(" ").map((one) => one.split("-"))
  : extent === "long"
  ? Object.keys(SIZES).flatMap((size) => Object.keys(THEMES).map((theme) => [size, theme]))
  : [["phone", "light"], ["tablet", "dark"], ["laptop", "forced"]];

for (const [size, theme] of each) {
  const { context, page, complaints } = await device(chrome, size, theme);
  const seen = new Set();
  const look = async (kind) => {
    if (seen.has(kind)) return;
    seen.add(kind);
    const where = `${kind} (${size}, ${theme})`;
    for (const fault of [...(await axe(page)), ...(await measured(page))]) faults.push(`${where}: ${fault}`);
    await page.screenshot({ path: join(pictures, `${kind.replaceAll(" ", "-")}-${size}-${theme}.png`) });
  };
  const walk = new Walk(page, size, look, (fault) => faults.push(`${fault} (${size}, ${theme})`));
  await page.goto(address);
  await page.waitForURL(/\/$/);
  await look("index");

  await walk.begin("Alternator belt tension and charging voltage", { "variant.engine-family": "k9", "variant.charging": "single" });
  const job = new URL(page.url()).pathname;

  // Up to the first reading; the pages beside the question are looked at from there, and everything is as it was afterwards.
  await walk.until(async () => (await walk.kind()) === "reading", { rest: ["12.62"], tension: SLACK });
  await walk.until(async () => (await walk.asks()).includes("tension"), { rest: ["12.62"], tension: SLACK });
  for (const side of ["stop", "cannot", "back", "more", "photo"]) {
    await page.goto(new URL(`${job}/${side}`, page.url()).href);
    await look(`page ${side}`);
  }
  await page.goto(new URL(job, page.url()).href);

  // A second device sees what is done, and is told so at once.
  const other = await device(chrome, "tablet", theme);
  await other.page.goto(address);
  await other.page.waitForURL(/\/$/);
  await other.page.goto(new URL(job, page.url()).href);
  await other.page.waitForSelector("[data-mine=false]");
  for (const fault of [...(await axe(other.page)), ...(await measured(other.page))]) faults.push(`watching (${theme}): ${fault}`);
  await other.page.screenshot({ path: join(pictures, `watching-tablet-${theme}.png`) });
  const before = await other.page.getAttribute(".moment", "data-moment");

  // A reading that looks like a slip (ten times one in band) is asked back; what was typed can be put right.
  const large = await largest(page);
  if (large.text !== "field text" || large.size < 54) faults.push(`the reading is not the largest thing: ${JSON.stringify(large)} (${size})`);
  await walk.type("620");
  await page.waitForSelector("button[value=keep]").catch(async () => {
    throw new Error(`nothing is asked back: ${await page.textContent("#job")}`);
  });
  await look("slip asked back");
  await walk.type(SLACK[0]);
  await other.page.waitForFunction((before) => document.querySelector(".moment").dataset.moment !== before, before, { timeout: 5000 })
    .catch(() => faults.push(`the second device does not see what was answered (${size})`));
  for (const fault of other.complaints) faults.push(`watching: ${fault}`);

  // The connection is lost while a value is typed: the page says so, keeps it, and takes it when it is back.
  walk.given("tension", 1);
  await walk.until(async () => (await walk.kind()) === "reading", {});
  await context.setOffline(true);
  await walk.typed(SLACK[1]);
  await walk.press("button[value=value]");
  await page.waitForFunction(() => document.getElementById("lost").textContent.length > 20);
  await look("lost connection");
  const kept = await page.inputValue("#text");
  if (kept.replace(",", ".") !== SLACK[1]) faults.push(`what was typed is lost with the connection: "${kept}" (${size})`);
  await context.setOffline(false);
  await walk.press("button[value=value]");
  await page.waitForFunction(() => document.getElementById("lost").textContent === "");
  walk.given("tension", 2);

  // A photo to this step.
  await page.goto(new URL(`${job}/photo`, page.url()).href);
  await page.setInputFiles("#file", { name: "label.png", mimeType: "image/png", buffer: picture() });
  await page.fill("#text", "The label on the belt guard");
  await walk.press("main button[type=submit]");
  await page.waitForURL(new URL(job, page.url()).href);
  await page.goto(new URL(`${job}/more`, page.url()).href);
  await look("more with a photo");
  await page.goto(new URL(job, page.url()).href);

  const charge = size === "tablet" ? "15.3" : "14.18";
  if (size === "laptop") {
    // It is stopped while the engine runs: what to see to first, then what is put back.
    await walk.until(async () => (await walk.asks()).includes("charge"), { tension: SLACK });
    await page.goto(new URL(`${job}/stop`, page.url()).href);
    await walk.press("main button[value=stop]");
    await page.waitForSelector("#job .stopped").catch(async () => {
      throw new Error(`no list of what to make safe: ${await page.textContent("#job")}`);
    });
    await look("stop list");
  }
  await walk.until(async () => (await walk.kind()) === "over", { tension: SLACK, charge: [charge] });
  await look("over");
  await page.goto(new URL(`${job}/report`, page.url()).href);
  await look("report");
  const wanted = ["index", "begin", "caution", "reading", "slip asked back", "verdict LOW", "lost connection", "over", "report"];
  if (size === "tablet") wanted.push("verdict HIGH");
  if (size === "phone") wanted.push("verdict IN BAND", "wait");
  if (size === "laptop") wanted.push("stop list");
  for (const kind of wanted) if (!seen.has(kind)) faults.push(`never seen: ${kind} (${size}, ${theme})`);
  for (const fault of complaints) {
    if (!/ERR_INTERNET_DISCONNECTED/.test(fault)) faults.push(`the browser complains (${size}, ${theme}): ${fault}`);
  }
  await other.context.close();
  await context.close();
}
await chrome.close();
console.log(faults.length === 0 ? "no faults" : [...new Set(faults)].join("\n"));
process.exit(faults.length === 0 ? 0 : 1);

/** A small picture: one red dot, as PNG. */
function picture() {
  return Buffer.from("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mP8z8BQDwAEhQGAhKmMIQAAAABJRU5ErkJggg==", "base64");
}
