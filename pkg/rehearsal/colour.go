package rehearsal

// RGB is a colour in linear light, red, green, blue: a reflectance 0..1 where
// it describes a surface, or an amount of light without an upper end.
type RGB [3]float64

// Grey is the colour with v in all three channels.
func Grey(v float64) RGB { return RGB{v, v, v} }

// Times scales all channels by k.
func (c RGB) Times(k float64) RGB { return RGB{c[0] * k, c[1] * k, c[2] * k} }

// Plus adds channel by channel.
func (c RGB) Plus(o RGB) RGB { return RGB{c[0] + o[0], c[1] + o[1], c[2] + o[2]} }

// Under multiplies channel by channel: a surface c under the light o.
func (c RGB) Under(o RGB) RGB { return RGB{c[0] * o[0], c[1] * o[1], c[2] * o[2]} }

// Toward mixes: c at share 0, o at share 1.
func (c RGB) Toward(o RGB, share float64) RGB {
	return RGB{c[0] + (o[0]-c[0])*share, c[1] + (o[1]-c[1])*share, c[2] + (o[2]-c[2])*share}
}

// Luminance is the relative luminance with the weights of IEC 61966-2-1.
func (c RGB) Luminance() float64 { return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2] }
