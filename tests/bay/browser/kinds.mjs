// The kinds of screens that the job of belt and charging has not: a danger, a question, a tool's number, values of an instrument, signatures.
// Arguments: the address with its key, the token of an instrument, a folder for pictures.
import { axe, browser, device } from "./open.mjs";
import { measured } from "./seen.mjs";
import { Walk } from "./walk.mjs";
import { request } from "node:http";
import { join } from "node:path";

const [address, token, pictures] = process.argv.slice(2);
const faults = [];
process.on("uncaughtException", (error) => {
  console.log([...new Set(faults)].join("\n"));
  console.log(error.stack);
  process.exit(1);
});
const chrome = await browser();

for (const [size, theme] of [["phone", "dark"], ["tablet", "light"]]) {
  const { context, page, complaints } = await device(chrome, size, theme);
  const seen = new Set();
  const look = async (kind) => {
    if (seen.has(kind)) return;
    seen.add(kind);
    for (const fault of [...(await axe(page)), ...(await measured(page))]) faults.push(`${kind} (${size}, ${theme}): ${fault}`);
    await page.screenshot({ path: join(pictures, `kinds-${kind.replaceAll(" ", "-")}-${size}-${theme}.png`) });
  };
  const walk = new Walk(page, size, look, (fault) => faults.push(`${fault} (${size}, ${theme})`));
  await page.goto(address);
  await page.waitForURL(/\/$/);
  await walk.begin("A screen of every kind", {});
  const job = new URL(page.url());
  let signed = 0;
  let read = false;
  for (let step = 0; step < 40 && (await walk.kind()) !== "over"; step += 1) {
    const has = async (selector) => (await page.locator(`#job ${selector}`).count()) > 0;
    if (await has("button[value=tool]")) {
      await look("tool");
      // One that is overdue is not taken without a reason.
      await page.fill("#text", "DMM-1");
      await walk.answered(() => walk.press("#job button[value=tool]"));
      if (!(await has("[role=alert]"))) faults.push(`an overdue tool is taken without a word (${size})`);
      await look("tool overdue");
      await page.fill("#text", "DMM-2");
      await walk.answered(() => walk.press("#job button[value=tool]"));
    } else if (await has("button[name=text]")) {
      await look("question");
      if (!(await has(".caution.danger"))) faults.push(`the danger does not stand before what it is about (${size})`);
      await walk.answered(() => walk.press("#job button[name=text][value=dark]"));
    } else if (await has("button[value=sign]")) {
      await look("sign");
      signed += 1;
      await page.fill("#name", signed === 1 ? "Ines" : "Oskar");
      await walk.answered(() => walk.press("#job button[value=sign]"));
    } else if ((await walk.kind()) === "reading" && !read) {
      read = true;
      // Values of an instrument come while it is asked for, and are not taken before they are taken.
      const sending = sender(job, token);
      await page.waitForSelector("#live:not([hidden])");
      await page.waitForFunction(() => /^14[.,]2/.test(document.getElementById("live-value").textContent));
      await look("live values");
      await page.waitForFunction(() => document.getElementById("live-stands").textContent.startsWith("6 "), null, { timeout: 20000 });
      sending.end();
      await walk.answered(() => walk.press("#take-live"));
    } else {
      const kind = await walk.kind();
      await look(kind);
      const act = (await has("button[value=go-on]")) ? "go-on" : "done";
      await walk.answered(() => walk.press(`#job button[value=${act}]`));
    }
  }
  await look(`over`);
  const over = await page.textContent("#job");
  if (!over.includes("PASSED")) faults.push(`it did not pass: ${over.slice(0, 300)} (${size})`);
  for (const kind of ["tool", "tool overdue", "question", "sign", "live values", "over"]) {
    if (!seen.has(kind)) faults.push(`never seen: ${kind} (${size})`);
  }
  for (const fault of complaints) faults.push(`the browser complains (${size}, ${theme}): ${fault}`);
  await context.close();
}
await chrome.close();
console.log(faults.length === 0 ? "no faults" : [...new Set(faults)].join("\n"));
process.exit(faults.length === 0 ? 0 : 1);

/** An instrument that sends 14.2 V once a second, as its own clock counts, until it is ended. */
function sender(job, token) {
  const sending = request(`${job.href}/stream`, { method: "POST", headers: { authorization: `Bearer ${token}`, "transfer-encoding": "chunked" } });
  sending.on("error", () => {});
  let second = 0;
  const timer = setInterval(() => sending.write(`@${second++} 14.2${second % 2} V\n`), 200);
  return { end: () => { clearInterval(timer); sending.end(); } };
}
