package draw

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"github.com/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"wallshoal/wall/plane"
)

// longestSide is the longest side of a page, in mm: 14,400 units of 1/72 in, the most that PDF
// readers take (Adobe PDF Reference 1.7, Appendix C).
const longestSide = 14400 * 25.4 / 72

const fontName = "go"

// A PDF is a canvas that makes one PDF document of any number of pages, which may differ in size.
// The fonts are embedded, the document asks viewers not to scale it, and the same marks give the
// same bytes.
type PDF struct {
	keeper
	pdf  *fpdf.Fpdf
	date time.Time

	// What the page was last told, so that it is told only what changes.
	stroke Stroke
	fill   Colour
	font   Text
	images map[string]bool // by the names under which the library knows them
	stale  bool            // a graphics state was restored: nothing last told holds
}

// NewPDF returns an empty document that is dated date; the zero date leaves dates out.
func NewPDF(about About, date time.Time) *PDF {
	p := &PDF{date: date}
	p.safely(func() {
		p.pdf = fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm"})
		p.pdf.SetCatalogSort(true)
		p.pdf.SetAutoPageBreak(false, 0)
		p.pdf.SetMargins(0, 0, 0)
		p.pdf.SetCreationDate(stamp(date))
		p.pdf.SetModificationDate(stamp(date))
		p.pdf.SetProducer("wallshoal", true)
		p.pdf.SetTitle(p.clean(about.Title), true)
		p.pdf.SetAuthor(p.clean(about.Author), true)
		p.pdf.SetSubject(p.clean(about.Subject), true)
		// The library writes into the bytes of a font.
		p.pdf.AddUTF8FontFromBytes(fontName, "", bytes.Clone(goregular.TTF))
		p.pdf.AddUTF8FontFromBytes(fontName, "B", bytes.Clone(gobold.TTF))
	})
	return p
}

// stamp returns a date that the library does not take for "now". The zero date becomes a stand-in,
// which is blanked in the finished document.
func stamp(date time.Time) time.Time {
	if date.IsZero() {
		return time.Unix(0, 0).UTC()
	}
	return date.UTC()
}

// safely runs a piece of drawing and turns a panic of the library, or the fault that it keeps,
// into the document's fault.
func (p *PDF) safely(draw func()) {
	defer func() {
		if r := recover(); r != nil {
			p.fail("the PDF library gave up: %v", r)
		}
		if p.pdf != nil && p.pdf.Err() {
			p.fail("%v", p.pdf.Error())
		}
	}()
	draw()
}

// Page implements Canvas.
func (p *PDF) Page(width, height float64) {
	if math.Max(width, height) > longestSide {
		p.fail("a page of %g × %g mm is longer than a PDF page may be, %g mm", width, height, longestSide)
	}
	if !p.turn(width, height) {
		return
	}
	p.safely(func() { p.pdf.AddPageFormat("P", fpdf.SizeType{Wd: width, Ht: height}) })
	p.stale = true
}

// Line implements Canvas.
func (p *PDF) Line(a, b plane.Point, s Stroke) {
	if !p.ready(a.X, a.Y, b.X, b.Y, s.Width) || s.Width <= 0 {
		return
	}
	p.safely(func() {
		p.setStroke(s)
		p.pdf.Line(a.X, a.Y, b.X, b.Y)
	})
}

// Polyline implements Canvas.
func (p *PDF) Polyline(points []plane.Point, s Stroke) {
	if !p.readyAt(points, s.Width) || len(points) < 2 || s.Width <= 0 {
		return
	}
	p.safely(func() {
		p.setStroke(s)
		p.trace(points)
		p.pdf.DrawPath("S")
	})
}

// Polygon implements Canvas.
func (p *PDF) Polygon(rings []plane.Ring, paint Paint) {
	whole, ok := p.shapes(rings)
	if !ok || !p.ready(paint.Stroke.Width) || len(whole) == 0 {
		return
	}
	operator := map[[2]bool]string{
		{true, false}: "f*", {false, true}: "S", {true, true}: "B*",
	}[[2]bool{paint.Fill.On, paint.Stroke.Width > 0}]
	if operator == "" {
		return
	}
	p.safely(func() {
		p.setPaint(paint)
		for _, r := range whole {
			p.trace(r)
			p.pdf.ClosePath()
		}
		p.pdf.DrawPath(operator)
	})
}

// Circle implements Canvas.
func (p *PDF) Circle(c plane.Point, r float64, paint Paint) {
	if !p.ready(c.X, c.Y, r, paint.Stroke.Width) || r <= 0 {
		return
	}
	style := map[[2]bool]string{
		{true, false}: "F", {false, true}: "D", {true, true}: "FD",
	}[[2]bool{paint.Fill.On, paint.Stroke.Width > 0}]
	if style == "" {
		return
	}
	p.safely(func() {
		p.setPaint(paint)
		p.pdf.Circle(c.X, c.Y, r, style)
	})
}

// Text implements Canvas.
func (p *PDF) Text(t Text) {
	if !p.ready(t.At.X, t.At.Y, t.Height, t.Turn) || t.Height <= 0 {
		return
	}
	clean := p.clean(t.Say)
	if strings.TrimSpace(clean) == "" {
		return
	}
	left := t.start(t.width(clean))
	p.safely(func() {
		p.setFont(t)
		if t.Turn == 0 {
			p.pdf.Text(left.X, left.Y, clean)
			return
		}
		p.pdf.TransformBegin()
		p.pdf.TransformRotate(t.Turn*180/math.Pi, left.X, left.Y)
		p.pdf.Text(left.X, left.Y, clean)
		p.pdf.TransformEnd()
	})
}

// Image implements Canvas. A picture that is drawn several times is in the document once.
func (p *PDF) Image(area plane.Rect, data []byte) {
	if !p.readyImage(area, data) {
		return
	}
	name := fmt.Sprintf("%x", sha256.Sum256(data))
	p.safely(func() {
		info := p.pdf.RegisterImageOptionsReader(name, fpdf.ImageOptions{ImageType: "JPG"}, bytes.NewReader(data))
		if p.pdf.Err() {
			return
		}
		if !p.images[name] {
			if p.images == nil {
				p.images = map[string]bool{}
			}
			p.images[name] = true
			if err := rank(info, len(p.images)); err != nil {
				p.fail("a picture cannot be drawn: %w", err)
				return
			}
		}
		p.pdf.ImageOptions(name, area.Min.X, area.Min.Y, area.Width(), area.Height(), false, fpdf.ImageOptions{ImageType: "JPG", AllowNegativePosition: true}, 0, "")
	})
}

// Group implements Canvas. A PDF shows nothing of it.
func (p *PDF) Group(name string) { p.enter("group") }

// End implements Canvas.
func (p *PDF) End() { p.leave("group") }

// Clip implements Canvas.
func (p *PDF) Clip(rings ...plane.Ring) {
	whole, ok := p.shapes(rings)
	if !ok || !p.enter("clip") {
		return
	}
	if len(whole) == 0 {
		whole = []plane.Ring{{{}, {}, {}}}
	}
	p.safely(func() {
		p.pdf.RawWriteStr("q")
		for _, r := range whole {
			p.trace(r)
			p.pdf.ClosePath()
		}
		p.pdf.RawWriteStr("W* n")
	})
}

// Unclip implements Canvas.
func (p *PDF) Unclip() {
	if p.leave("clip") {
		p.safely(func() { p.pdf.RawWriteStr("Q") })
		p.stale = true
	}
}

// WriteTo ends the document and writes it. It returns the first fault of the picture or of the
// writer; a picture with a fault writes nothing.
func (p *PDF) WriteTo(out io.Writer) (int64, error) {
	p.close()
	var raw bytes.Buffer
	if p.fault == nil {
		p.safely(func() {
			if err := p.pdf.Output(&raw); err != nil {
				p.fail("%v", err)
			}
		})
	}
	if p.fault != nil {
		return 0, fmt.Errorf("drawing PDF: %w", p.fault)
	}
	parts, err := finish(raw.Bytes(), !p.date.IsZero())
	if err != nil {
		return 0, fmt.Errorf("drawing PDF: %w", err)
	}
	written := int64(0)
	for _, part := range parts {
		n, err := out.Write(part)
		written += int64(n)
		if err != nil {
			return written, fmt.Errorf("writing PDF: %w", err)
		}
	}
	return written, nil
}

// trace adds an open line through the points to the current path.
func (p *PDF) trace(points []plane.Point) {
	p.pdf.MoveTo(points[0].X, points[0].Y)
	for _, q := range points[1:] {
		p.pdf.LineTo(q.X, q.Y)
	}
}

func (p *PDF) setPaint(paint Paint) {
	if paint.Stroke.Width > 0 {
		p.setStroke(paint.Stroke)
	}
	if paint.Fill.On {
		p.refresh()
		if c := paint.Fill.Colour; c != p.fill {
			p.pdf.SetFillColor(int(c.R), int(c.G), int(c.B))
			p.fill = c
		}
	}
}

func (p *PDF) setStroke(s Stroke) {
	p.refresh()
	if s == p.stroke {
		return
	}
	p.pdf.SetDrawColor(int(s.Colour.R), int(s.Colour.G), int(s.Colour.B))
	p.pdf.SetLineWidth(s.Width)
	p.pdf.SetDashPattern(s.Dash.Pattern(s.Width), 0)
	p.stroke = s
}

func (p *PDF) setFont(t Text) {
	p.refresh()
	p.pdf.SetTextColor(int(t.Colour.R), int(t.Colour.G), int(t.Colour.B))
	if t.Points() == p.font.Points() && t.Bold == p.font.Bold {
		return
	}
	style := ""
	if t.Bold {
		style = "B"
	}
	p.pdf.SetFont(fontName, style, t.Points())
	p.font = Text{Height: t.Height, Bold: t.Bold}
}

// refresh tells the page its state anew where a page began or a clip ended: the library believes
// that what it set inside still holds.
func (p *PDF) refresh() {
	if !p.stale {
		return
	}
	p.stale = false
	p.stroke, p.fill, p.font = Stroke{Width: Width025}, Black, Text{Height: Letter25}
	p.pdf.SetLineJoinStyle("round")
	p.pdf.SetDrawColor(0, 0, 0)
	p.pdf.SetLineWidth(p.stroke.Width)
	p.pdf.SetDashPattern(nil, 0)
	p.pdf.SetFillColor(0, 0, 0)
	// The library is silent where a font is set twice, so it is set to another first.
	p.pdf.SetFont(fontName, "", 1)
	p.pdf.SetFont(fontName, "", p.font.Points())
}
