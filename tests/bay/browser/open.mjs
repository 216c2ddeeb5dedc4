// Opens the bay in Chromium as a device of a given size and theme, and notes whatever the browser complains of.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";

// The packages lie where tests/run puts them, and not beside this file.
const require = createRequire(join(process.env.DWELL_BROWSER, "from-here.js"));
const { chromium } = require("playwright-core");

export const SIZES = {
  phone: { width: 390, height: 844 },
  tablet: { width: 1024, height: 768 },
  laptop: { width: 1440, height: 900 },
};

export const THEMES = {
  light: { colorScheme: "light" },
  dark: { colorScheme: "dark" },
  forced: { colorScheme: "dark", forcedColors: "active" },
};

const AXE = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

/** The browser; one for all devices of a test. */
export async function browser() {
  return chromium.launch({
    executablePath: process.env.DWELL_CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-dev-shm-usage", "--disable-gpu"],
  });
}

/** A device: its own cookies, a size, a theme. `complaints` is what must be empty at the end. */
export async function device(browser, size = "phone", theme = "light", more = {}) {
  const context = await browser.newContext({
    viewport: SIZES[size],
    hasTouch: size !== "laptop",
    isMobile: size === "phone",
    ignoreHTTPSErrors: true,
    reducedMotion: "reduce",
    ...THEMES[theme],
    ...more,
  });
  const page = await context.newPage();
  page.setDefaultTimeout(20000);
  const complaints = [];
  page.on("pageerror", (error) => complaints.push(`error in the script: ${error.message}`));
  page.on("console", (said) => {
    // A refusal is shown on the page; that the browser notes it as well is no fault.
    if (said.type() === "error" && !/Failed to load resource/.test(said.text())) complaints.push(said.text());
  });
  await page.addInitScript(() => {
    document.addEventListener("securitypolicyviolation", (event) =>
      console.error(`against the content security policy: ${event.violatedDirective} ${event.blockedURI} ${event.sample}`),
    );
  });
  return { context, page, complaints };
}

/** What axe-core finds against WCAG 2.2 AA. With forced colours the system chooses them, and axe-core would judge those of the style sheet. */
export async function axe(page) {
  await page.evaluate(AXE);
  const found = await page.evaluate(() =>
    axe.run(document, {
      rules: { "color-contrast": { enabled: !matchMedia("(forced-colors: active)").matches } },
      runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa"] },
      resultTypes: ["violations"],
    }),
  );
  return found.violations.map((one) => `${one.id}: ${one.help}\n      ${one.nodes.map((node) => node.html.slice(0, 160)).join("\n      ")}`);
}
