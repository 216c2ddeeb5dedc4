// A technician's way through a job: answers what is asked, by taps or by the keyboard, and notes what a person would miss.

export class Walk {
  /** `look` is called with the kind of each screen; `fault` with whatever is wrong. */
  constructor(page, size, look, fault) {
    this.page = page;
    this.keyboard = size === "laptop";
    this.look = look;
    this.fault = fault;
    this.used = {};
  }

  /** Notes that so many values of a reading were given. */
  given(name, count) {
    this.used[name] = count;
  }

  async press(selector) {
    if (this.keyboard) {
      await this.page.focus(selector);
      await this.page.keyboard.press("Enter");
    } else {
      await this.page.tap(selector);
    }
  }

  async begin(title, choices) {
    await this.press(`a.row:has-text("${title}")`);
    await this.page.waitForURL(/\/begin\//);
    await this.look("begin");
    for (const [name, value] of Object.entries(choices)) {
      const field = this.page.locator(`input[name="${name}"][value="${value}"]`);
      if ((await field.count()) === 0) continue;
      // The whole line is the target.
      if (this.keyboard) { await field.focus(); await this.page.keyboard.press("Space"); } else await this.page.locator(`label:has(input[name="${name}"][value="${value}"])`).tap();
    }
    // A scanner types fast and ends with Enter, which must not send the form before it is whole.
    await this.page.focus("#vin");
    await this.page.keyboard.type("1M8GDM9AXKP042788");
    await this.page.keyboard.press("Enter");
    await this.page.fill("#person", "Ines");
    await this.press("button[value=begin]");
    await this.page.waitForURL(/\/job\/\d+$/);
  }

  /** Which kind of screen stands there. */
  async kind() {
    return this.page.evaluate(() => {
      const has = (selector) => document.querySelector(`#job ${selector}`);
      if (has("a[href$='/report'].strong")) return "over";
      if (has(".stopped")) return "stop list";
      const word = has(".verdict .word");
      if (word) return `verdict ${(/LOW|HIGH|IN BAND|NO READING/i.exec(word.textContent) ?? ["of another sort"])[0].toUpperCase()}`;
      if (has("button[value=go-on]")) return "what came";
      if (has("input.reading")) return "reading";
      if (has(".clock")) return "wait";
      if (has(".caution")) return "caution";
      if (has("button[value=yes]")) return "need";
      if (has("button[value=sign]")) return "sign";
      return "confirm";
    });
  }

  /** What is asked, in small letters. */
  async asks() {
    return (await this.page.evaluate(() => document.querySelector("#job label[for=text]")?.textContent ?? "")).toLowerCase();
  }

  /** Puts a value into the field: key by key on the page where there is no keyboard. */
  async typed(value) {
    await this.page.fill("#text", "");
    if (this.keyboard) {
      await this.page.focus("#text");
      await this.page.keyboard.type(value);
      return;
    }
    const decimal = (await this.page.locator(".keys button", { hasText: /^,$/ }).count()) > 0 ? "," : ".";
    for (const letter of value) {
      const key = letter === "." ? decimal : letter;
      await this.page.locator(".keys button").filter({ hasText: new RegExp(`^${key === "." ? "\\." : key}$`) }).tap();
    }
    const shown = await this.page.inputValue("#text");
    if (shown.replace(",", ".") !== value) this.fault(`the keys wrote "${shown}" for ${value}`);
  }

  /** Gives a value and waits for what comes of it. */
  async type(value) {
    await this.typed(value);
    await this.answered(async () => {
      if (this.keyboard) await this.page.keyboard.press("Enter");
      else await this.press("button[value=value]");
    });
  }

  /** Does something that answers, and waits until the page shows another moment. */
  async answered(act) {
    const before = await this.page.getAttribute("#job .moment", "data-moment");
    await act();
    await this.page.waitForFunction((before) => document.querySelector("#job .moment")?.dataset.moment !== before, before)
      .catch(async () => { throw new Error(`nothing came of it at: ${(await this.page.textContent("#job")).slice(0, 600)}`); });
    const focus = await this.page.evaluate(() => document.activeElement?.tagName);
    if (focus === "BODY" || !focus) this.fault(`the focus is lost after an answer, at "${await this.kind()}"`);
  }

  /** Answers until the condition holds. `values` are given to the readings by their names. */
  async until(holds, values) {
    for (let step = 0; step < 120; step += 1) {
      const kind = await this.kind();
      await this.look(kind);
      if (/^verdict/.test(kind)) {
        const [word, said] = await this.page.evaluate(() => [
          document.querySelector("#job .verdict .word").textContent.replace(/^[^A-Za-z]*/, "").trim(),
          document.getElementById("said").textContent,
        ]);
        if (!said.includes(word)) this.fault(`the verdict "${word}" is not said to a screen reader: "${said}"`);
      }
      if (await holds()) return;
      if (kind === "over") throw new Error("the job is over before it should be");
      if (kind === "reading") {
        const asks = await this.asks();
        const name = Object.keys(values).find((name) => asks.includes(name));
        const at = this.used[name] ?? 0;
        const value = values[name]?.[at];
        if (value === undefined) throw new Error(`no value for "${asks}"`);
        this.used[name] = at + 1;
        await this.type(value);
        continue;
      }
      const act = { need: "yes", sign: "sign" }[kind] ?? ((await this.page.locator("#job button[value=go-on]").count()) > 0 ? "go-on" : "done");
      await this.answered(() => this.press(`#job button[value=${act}]`));
    }
    throw new Error("it does not come to an end");
  }
}
