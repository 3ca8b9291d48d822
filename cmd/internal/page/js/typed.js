// typed keeps what was typed and not taken up yet, by the id of its field, so that no reload and no crash loses it.
const typed = { of: {}, key: "" };

// begin takes up what was typed at the last visit.
typed.begin = () => {
  typed.key = drawer.key + " typed";
  typed.of = typed.stored();
};

typed.stored = () => {
  try {
    return JSON.parse(localStorage.getItem(typed.key) || "{}") || {};
  } catch {
    return {};
  }
};

typed.has = (id) => typeof typed.of[id] === "string";

// into puts what was typed into a field that is made anew, and keeps what is typed into it from now on. A choice is kept
// by its text.
typed.into = (field) => {
  const chosen = () => (field.options ? (field.selectedOptions[0] || { text: "" }).text : field.value),
    made = chosen();
  if (typed.has(field.id)) {
    if (!field.options) field.value = typed.of[field.id];
    else for (const option of field.options) if (option.text === typed.of[field.id]) option.selected = true;
  }
  field.addEventListener("input", () => typed.put({ [field.id]: chosen() === made ? undefined : chosen() }));
  return field;
};

// forget drops what was typed into fields.
typed.forget = (...ids) => typed.put(Object.fromEntries(ids.map((id) => [id, undefined])));

// put keeps texts by their fields; what another window keeps of other fields stays.
typed.put = (texts) => {
  Object.assign(typed.of, texts);
  try {
    localStorage.setItem(typed.key, JSON.stringify({ ...typed.stored(), ...texts }));
  } catch {
    /* it stays in the page */
  }
};
