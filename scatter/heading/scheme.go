package heading

// A Scheme says how the headings of a work lie about its flow.
type Scheme struct {
	Spread float64 // circular standard deviation about the flow, degrees; 0 for none
	Strays float64 // share of the pieces that head anywhere, 0 to 1
	Second Second
	Apart  float64 // least difference between the headings of a piece and of its nearest few, degrees
}

// Second is a second direction that some of the pieces head in.
type Second struct {
	Turn  float64 // from the flow, degrees clockwise
	Share float64 // of the pieces, 0 to 1
}
