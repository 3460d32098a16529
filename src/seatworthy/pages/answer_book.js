// What is known here of a session: its sheets, what was typed and where it stands.

/** The sheets of one session as they are known here. */
class Book {
  constructor(session) {
    Object.assign(this, { session, sheets: new Map(), drafts: new Map(), outbox: new Outbox(), tabs: [], shown: null });
    this.isOpen = false;
  }

  draft(glass, sheet) {
    if (!this.drafts.has(glass.id)) this.drafts.set(glass.id, new Draft(sheet, glass.codes.length ? `set ${glass.position}` : glass.code));
    return this.drafts.get(glass.id);
  }

  /** How many glasses of a sheet nobody has answered, here or on record. */
  left(key) {
    const glasses = this.sheets.get(key).rows;
    const isLeft = (glass) => glass.state === "waiting" && !["sending", "saved"].includes(this.drafts.get(glass.id)?.phase);
    return glasses.filter(isLeft).length;
  }

  /** How many glasses of a sheet are answered on record, as far as is known here. */
  answered(tab) {
    const isSaved = (glass) => glass.state === "answered" || this.drafts.get(glass.id)?.phase === "saved";
    return Math.max(tab.answered, this.sheets.get(tab.key)?.rows.filter(isSaved).length ?? 0);
  }

  /** The sheet after another, round the list, that still has glasses left; null if none has. */
  nextLeft(key) {
    const keys = this.tabs.map((tab) => tab.key);
    const start = keys.indexOf(key);
    return [...keys.slice(start + 1), ...keys.slice(0, start)].find((other) => this.left(other)) ?? null;
  }

  /** Whose glass a code is, on any sheet of the session. */
  owner(code) {
    for (const [key, sheet] of this.sheets) {
      const glass = sheet.rows.find((row) => hasCode(row, code));
      if (glass) return { key, sheet, glass };
    }
    return null;
  }

  /** Why a glass of the sheet takes no answer. */
  whyClosed({ glass, draft }) {
    const name = glass.codes.length ? `Set ${glass.position}` : glass.code;
    if (glass.state in STATE_WORDS) return `${name} takes no answer: ${STATE_WORDS[glass.state]}.`;
    return `${name} is answered already: ${glass.said || draft.label}.`;
  }

  /** What to say of a code that is on no line of the shown sheet: whose it is, or which it resembles. */
  unknownCode(typed) {
    const owner = this.owner(typed);
    const place = owner && (owner.glass.codes.length ? `in set ${owner.glass.position}` : `glass ${owner.glass.position}`);
    if (owner && owner.key !== this.shown) return `${typed} is not on this sheet. It is ${place} of ${owner.sheet.name}.`;
    if (owner) return `${typed} is ${place} of this sheet.`;
    const near = nearCodes(typed, this.sheets.get(this.shown).rows.flatMap((row) => row.codes.length ? row.codes : [row.code]));
    return `${typed} is not on this sheet.${near.length ? ` Near: ${near.join(" or ")}.` : ""}`;
  }

  /** What to say of an answer to a set that is none of its codes. */
  notInSet(typed, glass) {
    const { codes, position } = glass;
    const near = nearCodes(typed, codes);
    return `“${typed}” is not in set ${position}. Type the code that was circled: ${(near.length ? near : codes).join(", ")}.`;
  }
}
