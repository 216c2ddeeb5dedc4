// What axe-core does not see: the size of what is touched, the gaps between, what hangs over the edge, what is said and when.

/** Faults of the page as it stands: targets under 57 CSS pixels (15 mm), gaps under 8, a page that scrolls sideways. */
export async function measured(page) {
  return page.evaluate(() => {
    const LEAST = 57;
    const GAP = 8;
    const faults = [];
    const name = (element) =>
      `<${element.tagName.toLowerCase()}> "${(element.innerText || element.value || element.getAttribute("aria-label") || element.id || "").trim().slice(0, 40)}"`;
    const touched = "a[href], button, input:not([type=hidden]), select, textarea, summary, label:has(input), [role=button], [tabindex]:not([tabindex='-1'])";
    const targets = [];
    for (const element of document.querySelectorAll(touched)) {
      const shown = element.checkVisibility({ checkOpacity: true, checkVisibilityCSS: true });
      if (!shown || element.closest("[inert]")) continue;
      const box = element.getBoundingClientRect();
      // What only the keyboard reaches until it has the focus, and what its label is touched for.
      if (box.width <= 2 || box.height <= 2 || box.bottom < 0 || box.right < 0) continue;
      if (element.matches("input[type=radio], input[type=checkbox], input[type=file]") && element.closest("label")) continue;
      targets.push({ element, box });
      if (box.width < LEAST - 0.5 || box.height < LEAST - 0.5) {
        faults.push(`too small to hit: ${name(element)} ${Math.round(box.width)} × ${Math.round(box.height)}`);
      }
    }
    for (let first = 0; first < targets.length; first += 1) {
      for (let second = first + 1; second < targets.length; second += 1) {
        const [a, b] = [targets[first], targets[second]];
        if (a.element.contains(b.element) || b.element.contains(a.element)) continue;
        // What stays at the bottom covers what is scrolled under it, and is never hit for it.
        if (Boolean(a.element.closest("footer")) !== Boolean(b.element.closest("footer"))) continue;
        const across = Math.max(a.box.left, b.box.left) - Math.min(a.box.right, b.box.right);
        const down = Math.max(a.box.top, b.box.top) - Math.min(a.box.bottom, b.box.bottom);
        const gap = Math.max(across, down);
        if (gap < GAP - 0.5) faults.push(`only ${Math.round(gap)} px between ${name(a.element)} and ${name(b.element)}`);
      }
    }
    const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
    if (wide > 0) faults.push(`the page scrolls sideways, by ${wide} px`);
    for (const element of document.querySelectorAll("[draggable=true], [ondblclick], [oncontextmenu], [ontouchstart], [style]")) {
      faults.push(`needs more than a tap, or is styled in its place: ${name(element)}`);
    }
    for (const sheet of document.styleSheets) {
      const rules = (list) => [...list].flatMap((rule) => (rule.cssRules ? [rule, ...rules(rule.cssRules)] : [rule]));
      for (const rule of rules(sheet.cssRules)) {
        if (/:hover/.test(rule.selectorText ?? "") && /display|visibility|opacity/.test(rule.cssText)) {
          faults.push(`shown only while something points at it: ${rule.selectorText}`);
        }
      }
    }
    return faults;
  });
}

/** The height of the letters of an element, in CSS pixels. */
export async function size(page, selector) {
  return page.evaluate((selector) => {
    const element = document.querySelector(selector);
    return element ? parseFloat(getComputedStyle(element).fontSize) : 0;
  }, selector);
}

/** The largest letters on the page and what they say. */
export async function largest(page) {
  return page.evaluate(() => {
    let best = { size: 0, text: "" };
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (walker.nextNode()) {
      const element = walker.currentNode.parentElement;
      const text = walker.currentNode.textContent.trim();
      if (!text || !element.checkVisibility()) continue;
      const size = parseFloat(getComputedStyle(element).fontSize);
      if (size > best.size) best = { size, text };
    }
    for (const field of document.querySelectorAll("input:not([type=hidden])")) {
      if (!field.checkVisibility()) continue;
      const size = parseFloat(getComputedStyle(field).fontSize);
      if (size > best.size) best = { size, text: `field ${field.name}` };
    }
    return best;
  });
}
