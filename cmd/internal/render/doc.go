// Package render writes what a command has to say: pages of paragraphs and tables as text for a
// terminal or as Markdown, rows as CSV, and the JSON document. It knows no physics and no scores;
// numbers arrive in pilots' units.
package render
