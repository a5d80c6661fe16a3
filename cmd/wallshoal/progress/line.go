package progress

import (
	"bytes"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"math"
	"regexp"
	"time"
	"unicode/utf8"

	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// header is the first line of every file, and anyHeader how that of any version begins.
const (
	header    = anyHeader + "1}\n"
	anyHeader = `{"wallshoal-progress":`
)

// What a line can say.
const (
	up      = "up"      // a piece was hung
	down    = "down"    // it was taken down, or never hung
	left    = "left"    // it was taken down for a later layout, and left its holes
	begin   = "begin"   // work at a stand began, or went on
	pause   = "pause"   // it ceased
	end     = "end"     // it ceased, and the stand is finished
	minutes = "minutes" // somebody says how long the stand has taken, whatever was timed so far
)

// A line is one thing that happened, as it stands in the file.
type line struct {
	At      string  `json:"at"` // RFC 3339, to the second, UTC
	Do      string  `json:"do"`
	Layout  string  `json:"layout"` // fingerprint
	Piece   int     `json:"piece,omitempty"`
	Kind    string  `json:"kind,omitempty"`
	Heading float64 `json:"heading,omitempty"`
	Holes   string  `json:"holes,omitempty"`
	Wall    string  `json:"wall,omitempty"`
	Face    string  `json:"face,omitempty"`
	X       float64 `json:"x_mm,omitempty"`
	Y       float64 `json:"y_mm,omitempty"`
	Stand   int     `json:"stand,omitempty"`
	Hands   int     `json:"hands,omitempty"`
	Pieces  int     `json:"pieces,omitempty"`
	Drilled int     `json:"drilled,omitempty"`
	Minutes float64 `json:"minutes,omitempty"`

	at time.Time
}

// sumForm is how a line ends: with the checksum of all before it (CRC-32 of IEEE 802.3).
const sumForm = `,"sum":"%08x"}`

const sumLength = len(`,"sum":"00000000"}`)

// lineAt returns a line without what happened.
func lineAt(at time.Time, do, layout string) line {
	at = at.UTC().Truncate(time.Second)
	return line{At: at.Format(time.RFC3339), Do: do, Layout: layout, at: at}
}

// ofPiece returns a line about a piece.
func ofPiece(at time.Time, do, layout string, p Piece) line {
	l := lineAt(at, do, layout)
	l.Piece, l.Kind, l.Heading, l.Holes = p.Number, p.Kind, float64(hundredths(p.Heading))/100, p.Holes
	l.Wall, l.Face, l.X, l.Y = p.Wall, p.Face, p.At.X, p.At.Y
	return l
}

// piece returns the piece that a line is about.
func (l line) piece() Piece {
	return Piece{
		Number: l.Piece, Kind: l.Kind, Heading: heading.Bearing(l.Heading), Holes: l.Holes,
		Wall: l.Wall, Face: l.Face, At: plane.Point{X: l.X, Y: l.Y},
	}
}

// text returns the line as it stands in the file, with its line end.
func (l line) text() ([]byte, error) {
	text, err := json.Marshal(l)
	if err != nil {
		return nil, err
	}
	text = text[:len(text)-1]
	return append(fmt.Appendf(text, sumForm, crc32.ChecksumIEEE(text)), '\n'), nil
}

// parse returns what a line of the file says, which is given without its line end, or what is wrong with
// it.
func parse(text []byte) (line, string) {
	var l line
	n := len(text) - sumLength
	switch {
	case len(text) > MaxLine:
		return l, fmt.Sprintf("has %d bytes", len(text))
	case n < 1:
		return l, "is no record"
	case !bytes.Equal(text[n:], fmt.Appendf(nil, sumForm, crc32.ChecksumIEEE(text[:n]))):
		return l, "does not match its checksum"
	}
	in := json.NewDecoder(bytes.NewReader(append(bytes.Clone(text[:n]), '}')))
	in.DisallowUnknownFields()
	if err := in.Decode(&l); err != nil {
		return l, "is no record of this version"
	}
	at, err := time.Parse(time.RFC3339, l.At)
	if err != nil {
		return l, "has no time"
	}
	l.at = at.UTC()
	return l, l.wrong()
}

// marked is a fingerprint or the mark of a piece.
var marked = regexp.MustCompile(`^[0-9A-Za-z]{1,32}$`)

// wrong says what cannot be in a line, or nothing.
func (l line) wrong() string {
	ofPiece := l.Do == up || l.Do == down || l.Do == left
	ofStand := l.Do == begin || l.Do == pause || l.Do == end || l.Do == minutes
	switch {
	case !ofPiece && !ofStand:
		return "says what is not known: " + fmt.Sprintf("%.20q", l.Do)
	case l.at.Year() < 1 || l.at.Year() > 9999:
		return "has a year that cannot be"
	case !marked.MatchString(l.Layout):
		return "has no fingerprint of a layout"
	case ofPiece && (l.Piece < 1 || l.Piece > MaxNumber):
		return "has a piece's number out of range"
	case ofPiece && (l.Kind == "" || utf8.RuneCountInString(l.Kind) > 16 || !utf8.ValidString(l.Kind)):
		return "has no code of a kind"
	case ofPiece && !(l.Heading >= 0 && l.Heading < 360):
		return "has a heading out of range"
	case ofPiece && !marked.MatchString(l.Holes):
		return "has no mark of holes"
	case ofPiece && !(isName(l.Wall) && isName(l.Face) && (l.Wall == "") == (l.Face == "")):
		return "has no name of a wall and a face"
	case ofPiece && !(math.Abs(l.X) <= wall.MaxLength && math.Abs(l.Y) <= wall.MaxLength):
		return "has a place that cannot be"
	case ofStand && (l.Stand < 1 || l.Stand > MaxNumber):
		return "has a stand's number out of range"
	case l.Do == begin && (l.Hands < 1 || l.Hands > MaxHands):
		return fmt.Sprintf("has %d hands, and not 1 to %d", l.Hands, MaxHands)
	case l.Do == end && (l.Pieces < 0 || l.Pieces > MaxNumber || l.Drilled < 0 || l.Drilled > MaxNumber):
		return "has a number of pieces or holes out of range"
	case l.Do == minutes && !(l.Minutes >= 0 && l.Minutes <= maxMinutes) || math.IsNaN(l.Minutes):
		return fmt.Sprintf("has minutes out of range, 0 to %d", maxMinutes)
	}
	return ""
}

// isName reports whether a wall or a face can be called so, or is not named.
func isName(name string) bool {
	return utf8.ValidString(name) && utf8.RuneCountInString(name) <= longestName
}

// longestName is how many characters the name of a wall or a face has at most, with room to spare.
const longestName = 2 * wall.MaxName

// maxMinutes is the most that somebody can say a stand has taken, of all hands.
const maxMinutes = 100_000
