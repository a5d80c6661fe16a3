package orderpage

// How a hole map and the order of work that goes with it say one thing in the same words.
const (
	tapeWords     = "Before a sheet comes down, write the number of each piece on it and an arrow the way it heads on masking tape beside the piece's first hole."
	platformWords = "a platform or a tower with guard rails, put up by people trained for it, for two people"
)
