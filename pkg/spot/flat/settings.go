package flat

// Settings say how the target is flattened and what of it counts as print.
//
// Values without a source were chosen on simulated photos; the seeds of those
// samples were not kept. Measure again: scripts/margins -seed N -count N.
type Settings struct {
	// SamplesAcross is how many samples a cell's side is given at most. More
	// lessen only noise that is small already, and cost their square in time.
	SamplesAcross int
	// BlurPX is how far the blur of the photo spreads a line's edge, px of the
	// fit's raster. Above: more of the tape is bridged instead of seen. Below:
	// a line's faint edge counts as a mark's.
	BlurPX float64
	// BarMarginMM is kept from the index bar, mm, beside the blur. The bar is
	// not bridged: what lies on it is unknown. Common practice, no source.
	BarMarginMM float64
	// SameSurface: a line is learnt where the light without it differs from
	// that about the mark by less than this share. Above: also on paper beside
	// the tape, where the line is another (it is paler under tape). Below: an
	// uneven light leaves nothing to learn from.
	SameSurface float64
	// ProfileBins is how many bins there are across a line; odd, so that one
	// has the line's middle. More have too few cells each.
	ProfileBins int
	// LeastSamples is how many cells a bin needs to be known. Below this many
	// a median follows single cells; a line with an unknown bin is taken as not
	// learnt, since a guessed line is worse than none.
	LeastSamples int
}

// DefaultSettings are those that every measurement is made with.
func DefaultSettings() Settings {
	return Settings{
		SamplesAcross: 3,
		BlurPX:        1.2,
		BarMarginMM:   0.1,
		SameSurface:   0.2,
		ProfileBins:   25,
		LeastSamples:  5,
	}
}
