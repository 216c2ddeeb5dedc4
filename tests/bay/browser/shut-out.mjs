// A device that is shut out while it shows a job: it is told so in words, and not that the connection is lost.
// Arguments: the address with its key, the program, the file with the records, a folder for pictures.
import { axe, browser, device } from "./open.mjs";
import { Walk } from "./walk.mjs";
import { execFileSync } from "node:child_process";
import { join } from "node:path";

const [address, program, records, pictures] = process.argv.slice(2);
const faults = [];
const chrome = await browser();
const { page } = await device(chrome, "phone");
const walk = new Walk(page, "phone", async () => {}, (fault) => faults.push(fault));
await page.goto(address);
await page.waitForURL(/\/$/);
await walk.begin("A screen of every kind", {});
execFileSync(program, ["bay", "devices", "revoke", "this machine", "--store", records]);
const begun = Date.now();
await page.waitForFunction(() => document.getElementById("lost").textContent.includes("may no longer come in"), null, { timeout: 10000 })
  .catch(async () => faults.push(`it is not told: "${await page.textContent("#lost")}"`));
console.log(`told after ${Date.now() - begun} ms`);
faults.push(...(await axe(page)));
await page.screenshot({ path: join(pictures, "shut-out.png") });
// Whoever knows the machine's address lets it in again by it, and finds the job as it was.
await page.goto(address);
await page.waitForURL(/\/$/);
if (!(await page.textContent("main")).includes("A screen of every kind")) faults.push("the job is not there any more");
await chrome.close();
console.log(faults.length === 0 ? "no faults" : faults.join("\n"));
process.exit(faults.length === 0 ? 0 : 1);
