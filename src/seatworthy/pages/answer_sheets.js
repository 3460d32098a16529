// What stands beside the table: everybody's sheets with how far they are, and lines that were not stored.

/** The list of sheets; its links work without this script as well. */
class SheetList {
  constructor(book, goTo) {
    Object.assign(this, { book, goTo, lines: new Map() });
    this.list = made("ul");
    this.element = made("nav", { "aria-label": "Sheets" }, this.list);
  }

  refresh() {
    const keys = this.book.tabs.map((tab) => tab.key).join();
    if (keys !== this.keys) this.build(keys);
    for (const tab of this.book.tabs) this.update(tab, this.lines.get(tab.key));
  }

  build(keys) {
    this.keys = keys;
    this.lines.clear();
    const severalSittings = new Set(this.book.tabs.map((tab) => tab.sitting)).size > 1;
    let sitting = null;
    const parts = [];
    for (const tab of this.book.tabs) {
      if (severalSittings && tab.sitting !== sitting) parts.push(made("li", { class: "sitting" }, tab.sitting));
      sitting = tab.sitting;
      parts.push(this.line(tab));
    }
    this.list.replaceChildren(...parts);
  }

  line(tab) {
    const link = made("a", { href: tab.href, target: "_self" }, made("span", { class: "name" }, tab.name), made("span", { class: "count" }));
    link.addEventListener("click", (event) => {
      if (event.ctrlKey || event.metaKey || event.shiftKey || event.button) return;
      event.preventDefault();
      this.goTo(tab.key);
    });
    const line = made("li", {}, link);
    this.lines.set(tab.key, line);
    return line;
  }

  update(tab, line) {
    const answered = this.book.answered(tab);
    const isDone = tab.glasses > 0 && answered >= tab.glasses;
    line.className = isDone ? "is-done" : "";
    const link = line.firstChild;
    if (tab.key === this.book.shown) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
    const words = tab.glasses ? `${answered} of ${tab.glasses}` : "no glasses";
    const tick = isDone ? [made("span", { class: "tick" }), made("span", { class: "unseen" }, "complete, ")] : [];
    if (line.dataset.words === words) return;
    line.dataset.words = words;
    line.querySelector(".count").replaceChildren(...tick, words);
  }

  focusShown() {
    this.list.querySelector("[aria-current]")?.focus();
  }
}

/** Lines of other sheets that were not stored, and how many still travel when the server is silent. */
class Notices {
  constructor(book, goTo) {
    Object.assign(this, { book, goTo, shown: "" });
    this.element = made("ul", { class: "notices", "aria-label": "Not stored yet" });
  }

  refresh() {
    const { book } = this;
    const isPending = (draft) => ["asks", "refused"].includes(draft.phase) && !draft.isRead && draft.sheet !== book.shown;
    const pending = [...book.drafts.values()].filter(isPending);
    const late = book.outbox.isLate ? this.lateWords() : "";
    const state = JSON.stringify([late, pending.map((draft) => [draft.code, draft.note])]);
    if (state === this.shown) return;
    this.shown = state;
    const parts = pending.map((draft) => made("li", {}, this.button(draft)));
    if (late) parts.push(made("li", {}, late));
    this.element.replaceChildren(...parts);
    this.element.hidden = !parts.length;
  }

  button(draft) {
    const name = this.book.sheets.get(draft.sheet)?.name ?? "";
    const button = made("button", { type: "button" }, made("b", {}, `${name}, ${draft.printed}`), ` ${draft.note}`);
    button.addEventListener("click", () => this.goTo(draft.sheet));
    return button;
  }

  lateWords() {
    const { length } = this.book.outbox;
    const answers = length === 1 ? "1 answer is" : `${length} answers are`;
    return `${answers} not saved yet, since the server is silent. Keep this page open: they are sent when it is back.`;
  }
}
