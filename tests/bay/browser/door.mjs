// A tablet is let in with the code: by hand, with each slip told, at each size and in each theme.
// Arguments: the address, the code, a folder for pictures.
import { axe, browser, device, SIZES, THEMES } from "./open.mjs";
import { measured } from "./seen.mjs";
import { join } from "node:path";

const [address, code, pictures] = process.argv.slice(2);
const faults = [];
const note = (where, list) => list.forEach((fault) => faults.push(`${where}: ${fault}`));
const chrome = await browser();

for (const theme of Object.keys(THEMES)) {
  for (const size of Object.keys(SIZES)) {
    const { context, page, complaints } = await device(chrome, size, theme);
    await page.goto(`${address}/`);
    const where = `pairing ${size} ${theme}`;
    note(where, await axe(page));
    note(where, await measured(page));
    await page.screenshot({ path: join(pictures, `door-${size}-${theme}.png`), fullPage: true });
    note(where, complaints);
    await context.close();
  }
}

const { context, page, complaints } = await device(chrome, "tablet");
await page.goto(`${address}/pair?code=${code}#sha256=00`);
note("scanned", (await page.inputValue("#code")) === code ? [] : ["the scanned code is not filled in"]);
// By the keyboard alone, with a code that is no code first.
await page.focus("#code");
await page.keyboard.press("Control+A");
await page.keyboard.type("7K3");
await page.keyboard.press("Tab");
await page.keyboard.type("tablet lift 2");
await page.keyboard.press("Tab");
await page.keyboard.type("Ines");
await page.keyboard.press("Enter");
await page.waitForSelector("[role=alert]");
note("a slip", await axe(page));
note("a slip", await measured(page));
note("a slip", (await page.inputValue("#name")) === "tablet lift 2" ? [] : ["what was typed is lost"]);
await page.screenshot({ path: join(pictures, "door-slip.png"), fullPage: true });
await page.focus("#code");
await page.keyboard.press("Control+A");
await page.keyboard.type(code.toLowerCase());
await page.keyboard.press("Enter");
await page.waitForURL(`${address}/`);
const kept = (await context.cookies()).filter((cookie) => cookie.name.startsWith("__Host-dwell"));
note("let in", kept.length === 1 && kept[0].httpOnly && kept[0].secure && kept[0].sameSite === "Strict" ? [] : [JSON.stringify(kept)]);
await page.goto(`${address}/pair`);
note("known", (await page.textContent("main")).includes("tablet lift 2 (Ines)") ? [] : ["it is not known by its name"]);
note("known", await axe(page));
note("known", await measured(page));
note("let in", complaints);

await chrome.close();
console.log(faults.length === 0 ? "no faults" : faults.join("\n"));
process.exit(faults.length === 0 ? 0 : 1);
