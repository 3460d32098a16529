// How a typed beginning finds a wording, and how a typed code finds its glass. Nothing here touches a page.

const STROKED = { ø: "o", ł: "l", đ: "d", ð: "d", þ: "th", æ: "ae", œ: "oe", ħ: "h", ı: "i", ß: "ss" };
const MOST_SHOWN = 6;
// What is sent for the two answers that name nothing, and what may be typed for them.
const WITHOUT_NAME = [
  { said: "0", label: "nothing", keys: ["0", "n", "nothing"] },
  { said: "?", label: "something, no name", keys: ["?", "something"] },
];
// The same where a beer is judged.
const WITHOUT_NAME_JUDGED = [
  { said: "0", label: "as it should be", keys: ["0", "n", "nothing", "as it should be"] },
  { said: "?", label: "not as it should be, no name", keys: ["?", "something", "not as it should be"] },
];

/** Reduce a wording to what two spellings of it share; "?" alone stays. */
function fold(text) {
  if (/^\s*\?+\s*$/.test(text)) return "?";
  const bare = text
    .normalize("NFKD")
    .toLowerCase()
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .replace(/[øłđðþæœħıß]/g, (letter) => STROKED[letter]);
  return (bare.match(/[\p{L}\p{N}]+/gu) || []).join(" ");
}

/** Every wording that names something, ready to be looked up by its beginning. */
class Wordings {
  /**
   * @param {[string, string][]} pairs Wording and label, as they stand on the shelf.
   * @param {boolean} isJudged Whether every glass asks if the beer is as it should be.
   */
  constructor(pairs, isJudged = false) {
    this.withoutName = isJudged ? WITHOUT_NAME_JUDGED : WITHOUT_NAME;
    const named = pairs.map(([wording, label]) => {
      const key = fold(wording);
      return { said: key === fold(label) ? label : wording, label, key };
    });
    const fixed = this.withoutName.flatMap(({ said, label, keys }) => keys.map((key) => ({ said, label, key })));
    this.all = [...fixed, ...named.filter((one) => one.key)];
  }

  /**
   * What a typed text may mean.
   *
   * @returns {{options: object[], count: number, taken: object|null}} The best options first, one a label;
   *   how many there are; and the one that Enter takes without a choice, null if that is not clear.
   */
  find(typed) {
    const key = fold(typed);
    if (!key) return { options: [], count: 0, taken: null };
    let found = this.all.filter((one) => one.key.startsWith(key));
    if (!found.length) found = this.all.filter((one) => one.key.includes(` ${key}`));
    found.sort((a, b) => (b.key === key) - (a.key === key)); // else in the order given: the brewery's own first
    const byLabel = new Map();
    for (const one of found) if (!byLabel.has(one.label)) byLabel.set(one.label, one);
    const options = [...byLabel.values()];
    const isClear = options.length === 1 || options[0]?.key === key;
    return { options: options.slice(0, MOST_SHOWN), count: options.length, taken: isClear ? options[0] : null };
  }
}

/** Which of a set's codes begin as typed, in the form of `Wordings.find`; Enter takes one that is alone. */
function picks(typed, codes) {
  const digits = typed.trim();
  const options = codes.filter((code) => digits && code.startsWith(digits)).map((code) => ({ said: code, label: `picked ${code}` }));
  return { options, count: options.length, taken: options.length === 1 ? options[0] : null };
}

// What may be typed for the two answers to "is it there?".
const YES_OR_NO = [
  { said: "yes", label: "yes", keys: ["yes", "ja", "si", "1"] },
  { said: "no", label: "no", keys: ["no", "nein", "0"] },
];
const SCALE_TOP = 10;

/** Which of yes and no begins as typed, in the form of `Wordings.find`. */
function yesOrNo(typed) {
  const key = fold(typed);
  const options = YES_OR_NO.filter(({ keys }) => key && keys.some((one) => one.startsWith(key)));
  return { options, count: options.length, taken: options.length === 1 ? options[0] : null };
}

/** The rating that is typed, in the form of `Wordings.find`; there is nothing to choose from. */
function rated(typed) {
  const digits = typed.trim();
  const isOnScale = /^\d{1,2}$/.test(digits) && Number(digits) <= SCALE_TOP;
  return { options: [], count: 0, taken: isOnScale ? { said: String(Number(digits)), label: String(Number(digits)) } : null };
}

/** Codes that a misread or mistyped one may have been: digits exchanged, or one digit off. */
function nearCodes(typed, codes) {
  const sorted = (code) => [...code].sort().join("");
  const differing = (code) => [...code].filter((digit, place) => digit !== typed[place]).length;
  const isNear = (code) => sorted(code) === sorted(typed) || (code.length === typed.length && differing(code) === 1);
  return codes.filter(isNear).slice(0, 3);
}
