// One line of the table: a glass, its code, its answer and what became of it.

const STATE_WORDS = { spilled: "spilled", gone: "left before it" };

/** Make an element; `parts` are attributes, `inside` texts or elements, never HTML. */
function made(name, parts = {}, ...inside) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(parts)) if (value != null) element.setAttribute(key, value);
  element.append(...inside);
  return element;
}

function field(parts) {
  const plain = { type: "text", autocomplete: "off", autocapitalize: "none", autocorrect: "off", spellcheck: "false" };
  return made("input", { ...plain, ...parts });
}

/** Whether a code stands on this glass, or on a glass of this set. */
function hasCode(glass, code) {
  return glass.codes.length ? glass.codes.includes(code) : glass.code === code;
}

/** What was typed for a glass and what became of it; lives longer than the line that shows it. */
class Draft {
  constructor(sheet, printed) {
    Object.assign(this, { sheet, printed, code: "", text: "", note: "", asked: "", label: "" });
    this.phase = "typing"; // "checking", "sending", "asks", "refused", "saved"
    this.wasWaiting = false;
    this.isRead = false; // whether a refusal that leaves nothing to do was seen
  }
}

class Row {
  constructor(glass, draft, grid) {
    Object.assign(this, { glass, draft, grid });
    this.options = [];
    this.chosen = -1;
    const { id, position, code, codes } = glass;
    const name = `set ${position}`;
    this.codeField = field({ class: "code", inputmode: "numeric", placeholder: code, "aria-label": `Code of glass ${position}, printed ${code}` });
    this.answerField = field({
      class: "answer", role: "combobox", "aria-autocomplete": "list", "aria-expanded": "false", "aria-controls": `list-${id}`,
      "aria-describedby": `note-${id}`, "aria-label": `Answer to ${codes.length ? name : `glass ${code}`}`, enterkeyhint: "next",
      inputmode: codes.length || glass.method === "intensity" ? "numeric" : null,
    });
    this.list = made("ul", { role: "listbox", id: `list-${id}`, "aria-label": codes.length ? `Codes of ${name}` : `Names for glass ${code}`, hidden: "" });
    this.codeText = made("span", { class: "codes" }, ...(codes.length ? codes : [code]).map((one) => made("span", { class: "code" }, one)));
    this.answerText = made("span", { class: "said" });
    this.reading = made("span", { class: "reading" });
    this.note = made("span", { class: "note", id: `note-${id}` });
    this.element = made("tr", {},
      made("th", { scope: "row" }, made("span", { class: "unseen" }, codes.length ? "set " : "glass "), String(position)),
      made("td", { class: "of-code" }, this.codeField, this.codeText),
      made("td", { class: "of-answer" }, this.answerField, this.list, this.answerText),
      made("td", { class: "of-note" }, this.reading, this.note));
    this.codeField.value = draft.code;
    this.answerField.value = draft.text;
    this.listen();
  }

  listen() {
    const { codeField, answerField, list } = this;
    codeField.addEventListener("input", () => this.grid.codeTyped(this));
    codeField.addEventListener("keydown", (event) => this.grid.keyInCode(event, this));
    answerField.addEventListener("input", () => this.grid.answerTyped(this));
    answerField.addEventListener("keydown", (event) => this.grid.keyInAnswer(event, this));
    answerField.addEventListener("focus", () => this.refresh());
    answerField.addEventListener("blur", () => { this.offer([]); this.refresh(); });
    list.addEventListener("pointerdown", (event) => {
      event.preventDefault();
      const place = [...list.children].indexOf(event.target.closest("li"));
      if (place >= 0) this.grid.take(this, this.options[place]);
    });
  }

  /** Whether an answer may be typed here now. */
  get isOpen() {
    return this.grid.book.isOpen && this.glass.state === "waiting" && !["sending", "saved"].includes(this.draft.phase);
  }

  /** Whether it is a forced-choice set, answered with one of its codes. */
  get isSet() {
    return this.glass.codes.length > 0;
  }

  /** What a typed text may mean here. */
  find(typed) {
    if (this.isSet) return picks(typed, this.glass.codes);
    if (this.glass.method === "intensity") return rated(typed);
    return this.glass.method === "a_not_a" ? yesOrNo(typed) : this.grid.book.words.find(typed);
  }

  /** What is asked about one compound by name; "" where a name or a code is the answer. */
  get question() {
    const { asks, method } = this.glass;
    if (method === "intensity") return `${asks}, 0 to ${SCALE_TOP}`;
    return method === "a_not_a" ? `${asks}, y or n` : "";
  }

  get hasFocus() {
    return this.grid.root.activeElement === this.answerField;
  }

  /** Show the options of what is typed; an empty list closes it. */
  offer(options, chosen = -1) {
    Object.assign(this, { options, chosen });
    const { id } = this.glass;
    this.list.replaceChildren(...options.map((option, place) => {
      const differs = !this.isSet && fold(option.said) !== fold(option.label);
      const parts = differs ? [option.label, made("i", {}, option.said)] : [option.label];
      return made("li", { role: "option", id: `option-${id}-${place}`, "aria-selected": String(place === chosen) }, ...parts);
    }));
    this.list.hidden = !options.length;
    this.answerField.setAttribute("aria-expanded", String(options.length > 0));
    if (chosen >= 0) this.answerField.setAttribute("aria-activedescendant", `option-${id}-${chosen}`);
    else this.answerField.removeAttribute("aria-activedescendant");
  }

  /** Bring the line up to date with the record and with what was typed. */
  refresh() {
    const { glass, draft, isOpen } = this;
    if (isOpen) draft.wasWaiting = true;
    this.answerField.hidden = !isOpen;
    this.answerText.hidden = isOpen;
    this.codeField.hidden = !isOpen || this.isSet;
    this.codeText.hidden = isOpen && !this.isSet;
    this.answerText.textContent = glass.state === "answered" ? glass.said : draft.label;
    this.reading.textContent = glass.state === "answered" && fold(glass.readAs) !== fold(glass.said) ? glass.readAs : "";
    const isWrong = isOpen && Boolean(draft.note) && draft.phase !== "checking";
    this.answerField.setAttribute("aria-invalid", String(isWrong));
    this.element.className = [`is-${glass.state}`, isOpen ? "is-open" : "", this.isSet ? "is-set" : "", isWrong || draft.phase === "refused" ? "is-wrong" : ""].join(" ");
    this.note.replaceChildren(...this.words());
  }

  /** What stands at the end of the line. */
  words() {
    const { glass, draft } = this;
    if (glass.state in STATE_WORDS) return [STATE_WORDS[glass.state]];
    if (glass.state === "answered") return [this.wordsOnRecord()];
    if (draft.phase === "sending") return [this.grid.book.outbox.isLate ? "not saved yet" : "saving"];
    if (draft.phase === "checking") return [this.grid.book.outbox.isLate ? "not looked up yet" : "looking it up"];
    if (draft.note) return [draft.note];
    if (this.isOpen && draft.text.trim() && !this.hasFocus) return ["typed, not entered yet"];
    if (this.isOpen && !draft.text && this.hasFocus && this.isSet) return ["the code that was circled"];
    if (this.isOpen && !draft.text && this.question) return [this.question];
    if (this.isOpen && !draft.text && this.hasFocus) return [this.hintOf(0), this.hintOf(1)];
    return [];
  }

  /** What may be typed for one of the two answers that name nothing. */
  hintOf(place) {
    const { said, label } = this.grid.book.words.withoutName[place];
    return made("span", {}, made("b", {}, said), ` ${label} `);
  }

  wordsOnRecord() {
    const { glass, draft } = this;
    if (draft.phase === "refused") {
      draft.isRead = true;
      return draft.note;
    }
    const aside = glass.isAside ? ", set aside" : "";
    if (draft.phase === "saved") return `saved${aside}`;
    const phone = glass.isByPhone;
    if (!draft.wasWaiting) return `${phone ? "by phone" : "on record"}${aside}`;
    const lost = draft.text.trim() ? `; “${draft.text.trim()}” was not` : "";
    return `${phone ? "came by phone" : "was entered elsewhere"}${lost}${aside}`;
  }
}
