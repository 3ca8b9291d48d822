package catalogue

// Caution is something that can hurt a person or burn a house, with the sentence that stands where it
// applies.
type Caution uint8

// The cautions.
const (
	FirstPower Caution = iota // at the bench, before a craft is powered up
	Packs                     // lithium packs
	Disposal                  // packs to be retired
	Spinning                  // a prop that turns on a stand or at the bench
	WarmMotors                // motors that are felt after a flight
	ClassLimit                // a mass that may fall on either side of a weight class
	Indoors                   // flying in a room with people
	LocalLaw                  // where, near and over whom
	CautionEnd                // one past the last
)

// cautions are common practice and what packs' and props' makers print; they name no source of their own.
var cautions = [CautionEnd]string{
	FirstPower: "Take the props off at the bench and make the first power-up through a current limiter.",
	Packs: "A lithium pack burns when shorted, crushed, over-drawn or over-charged: charge it watched, retire it " +
		"when puffed.",
	Disposal: "A pack to be retired is neither charged nor flown: keep it away from what burns, and hand it in " +
		"discharged, as local rules say.",
	Spinning: "When a prop spins on a stand or at the bench: bolt the stand down, keep props and hands apart, wear eye " +
		"protection, let nobody " +
		"be in the plane of the disc, and take the first run through a current limiter.",
	WarmMotors: "Check motor temperature by hand only after landing, disarmed and with the pack unplugged.",
	ClassLimit: "At {mass} it may fall on either side of {class} g, a class limit in many places: weigh it.",
	Indoors:    "Indoors people stay behind a net or outside of the room.",
	LocalLaw:   "Where, near and over whom you may fly is set by local law.",
}

// Sentence is the caution with its values.
func (c Caution) Sentence(values map[string]any) string { return Fill(cautions[c], values) }
