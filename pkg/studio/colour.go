package studio

// RGB is a colour in linear light, red, green, blue: a reflectance 0..1 where
// it describes a surface, or an amount of light without an upper end. A struct and no
// array: the compiler keeps its fields in registers.
type RGB struct{ R, G, B float64 }

// Grey is the colour with v in all three channels.
func Grey(v float64) RGB { return RGB{v, v, v} }

// Times scales all channels by k.
func (c RGB) Times(k float64) RGB { return RGB{c.R * k, c.G * k, c.B * k} }

// Plus adds channel by channel.
func (c RGB) Plus(o RGB) RGB { return RGB{c.R + o.R, c.G + o.G, c.B + o.B} }

// Under multiplies channel by channel: a surface c under the light o.
func (c RGB) Under(o RGB) RGB { return RGB{c.R * o.R, c.G * o.G, c.B * o.B} }

// Toward mixes: c at share 0, o at share 1.
func (c RGB) Toward(o RGB, share float64) RGB {
	return RGB{c.R + (o.R-c.R)*share, c.G + (o.G-c.G)*share, c.B + (o.B-c.B)*share}
}

// Luminance is the relative luminance Y of linear sRGB, with the weights of IEC 61966-2-1
// (those of ITU-R BT.709).
func (c RGB) Luminance() float64 { return 0.2126*c.R + 0.7152*c.G + 0.0722*c.B }

// each makes a colour channel by channel.
func (c RGB) each(of func(v float64) float64) RGB { return RGB{of(c.R), of(c.G), of(c.B)} }

// Channels are red, green and blue in turn.
func (c RGB) Channels() [3]float64 { return [3]float64{c.R, c.G, c.B} }
