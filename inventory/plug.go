package inventory

// Plug is the type of a connector, in the spelling of this package if the type is known.
type Plug string
