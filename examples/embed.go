// Package examples holds drawers, styles and flight logs of an invented scenario: a flying club's
// lending drawer and three pilots' own. No maker, model or pilot in them exists; the figures have the
// size that such parts have.
package examples

import "embed"

// Files holds every example by its path in this folder: the drawers at the top, the styles that they
// are flown with in styles.
//
//go:embed *.yaml styles/*.yaml
var Files embed.FS

// DefaultDrawer is the drawer in Files that a command reads when it is given none. It carries a log
// and a fleet as well.
const DefaultDrawer = "club.yaml"
