package heading

import "wallshoal/scatter/apportion"

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

// A Role is which way among those of a scheme a piece heads.
type Role int

// The roles: about the flow, about the second direction, and anywhere.
const (
	Flowing Role = iota
	Turned
	Straying
	Roles // how many there are
)

// Quotas returns how many of n pieces have each role: the shares of the scheme by largest
// remainders. Strays and the second direction must not have more than all of them together.
func (s Scheme) Quotas(n int) [Roles]int {
	shares := []float64{Flowing: max(0, 1-s.Strays-s.Second.Share), Turned: s.Second.Share, Straying: s.Strays}
	return [Roles]int(apportion.LargestRemainders(n, shares))
}
