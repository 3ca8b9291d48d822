// A source answers questions: ask(question, options, {progress, signal}) gives the document that answers, and
// can(question) says whether it answers that kind at all. progress is called with what is done so far, {share, text}.

// Unanswered is a question that a source has no answer to.
class Unanswered extends Error {}

// inside is the source of a page that holds its answers: the builds, and what stands first at the opening.
const inside = (document) => ({
  live: false,
  can: (question) => question === "explore" || question === "lead",
  async ask(question) {
    if (question === "explore") return document;
    if (question === "lead" && document.lead && !(state && changed())) return document.lead;
    throw new Unanswered("This file does not hold that answer.");
  },
});
