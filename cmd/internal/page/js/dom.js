// What a page is made of: elements and their text.
const svgSpace = document.querySelector("svg").namespaceURI;

function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes || {})) {
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (value === true) element.setAttribute(name, "");
    else if (value !== false && value != null) element.setAttribute(name, value);
  }
  element.append(...children.flat(4).filter((child) => child != null && child !== false && child !== ""));
  return element;
}

// el makes an element; children are elements or plain text, never markup.
const el = (tag, attributes, ...children) => fill(document.createElement(tag), attributes, children);
const svg = (tag, attributes, ...children) => fill(document.createElementNS(svgSpace, tag), attributes, children);
const replace = (target, ...children) => {
  target.replaceChildren();
  fill(target, {}, children);
};
const byId = (id) => document.getElementById(id);

// words joins texts to one sentence's list: "a", "a and b", "a, b and c".
const words = (list) =>
  list.length < 2 ? list.join("") : list.slice(0, -1).join(", ") + " and " + list[list.length - 1];

// lines are paragraphs, one a text.
const lines = (texts, attributes) => texts.map((text) => el("p", attributes, text));

// bullets are a list of texts; nothing for none.
const bullets = (texts) =>
  texts.length > 0 &&
  el(
    "ul",
    {},
    texts.map((text) => el("li", {}, text)),
  );

// button is a control that does something.
const button = (text, act, attributes) => el("button", { type: "button", onclick: act, ...attributes }, text);
