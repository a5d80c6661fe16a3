package photo

// Dark reports whether a pixel of a picture that was not scaled is nearly black.
func Dark(p Picture, x, y int) bool { return p.small.RGBAAt(x, y).R < 100 }
