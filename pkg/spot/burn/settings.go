package burn

import "burngauge.dev/burngauge/pkg/spot"

// Settings are the numbers that decide what is a burn, where it is and how well
// that is known. Darkness D is 0 on tape and 1 on char.
//
// Where a comment counts photos, they are simulated photos of scripts/fixtures;
// the seeds of those samples were not kept. Measure again:
// scripts/margins -seed N -count N prints for each decision, under the name
// "burn." and the field, the quantiles of both kinds of photo. Where nothing is
// said, the value was chosen on such photos without a record of them.
type Settings struct {
	// Finding blobs.

	// CoarseCells is the width of the field that is searched, cells: 0.13 to
	// 0.25 mm a cell on the built-in targets. More find no more marks, and cost
	// their square in time.
	CoarseCells int
	// Levels is how many thresholds of light are tried, evenly spaced in ratio
	// between the darkest and the lightest cell. Fewer step over a pale mark.
	Levels int
	// DarkestLight is the light below which nothing is distinguished, of the
	// camera's scale: a step of 7 in 255 in the code values of sRGB.
	DarkestLight float64
	// StrokeMM is half of what a pen or a tape's edge is wide at most, mm. What
	// is narrower than a whole one is dropped from a blob. Above: small marks
	// go too. Below: writing stays.
	StrokeMM float64
	// BorderCells: a blob that comes so near to what is not looked at, cells,
	// does not stand alone. More than the diagonal to a neighbour.
	BorderCells float64
	// MostBorderCells is how many cells a blob may have there. Above: a blob of
	// which a part is not seen is taken for a whole one.
	MostBorderCells int
	// SmallestMM2 separates marks from dirt, mm²: a mark of 0.8 mm.
	SmallestMM2 float64
	// LargestMM2 separates marks from shadows and machine parts, mm²: a mark of
	// 10 mm. Burns have 2 to 5 mm, heavy ones 7. Common practice, no source.
	LargestMM2 float64
	// LargestShare does the same on small targets: share of the searched square.
	LargestShare float64
	// LeastInscribedMM is the radius of the circle that fits into a mark, mm.
	// It separates marks from places where two pen strokes cross.
	LeastInscribedMM float64
	// LeastCompact is the largest circle's area over the blob's. It separates marks
	// (half a disc 0.5, two discs side by side 0.5) from a pen's cross (0.15).
	LeastCompact float64
	// EdgeMM is how far from a blob's edge its contrast is taken, mm. More takes
	// in what lies beside the blob, less sees only the blurred edge.
	EdgeMM float64
	// TapeQuantile of the light beyond a blob's edge stands for the tape's: below
	// the median, since what is dark on one side alone is no blob's edge.
	TapeQuantile float64
	// LeastContrast is that of the palest burn: 1 - light inside the edge over
	// light outside. It separates burns from the tape's texture.
	LeastContrast float64
	// NestShare: of two blobs of which one holds more than this share of the
	// other, the one of more contrast stands for both.
	NestShare float64
	// SizeExponent: blobs are looked at in the order of contrast times compactness
	// times area to this power. 0 would leave the size out, 1 let it outweigh all.
	SizeExponent float64

	// From light to darkness.

	// FineCells is the width of a mark's own field, cells, at most.
	FineCells int
	// StepPX is the size of its cells, px of the fit's raster: finer than one.
	StepPX float64
	// SurroundRadii is half the field's width in radii of a disc of the blob's
	// area, to which the two lengths that follow are added; an oval is longer than the disc.
	SurroundRadii float64
	// HaloMM is how far from the core a soft edge is looked for, mm. Above: the
	// tape's light is taken from farther off. Below: a wide fringe counts as tape.
	HaloMM float64
	// MarginMM is how much farther tape is seen, mm.
	MarginMM float64
	// TapeToMM is the distance from the core to which the tape's own scatter is
	// taken, mm; it begins at HaloMM.
	TapeToMM float64
	// CharQuantile of the light in a blob stands for char: a fifth of a mark is
	// char at least, ash and holes are lighter.
	CharQuantile float64
	// LeastStep is the step from char to tape over char's light from which on
	// there is something to measure. Below, noise would be a darkness.
	LeastStep float64
	// LeastDivisor: darkness is never taken over less than this share of the step
	// from char to tape: on a line as dark as char it would divide by nothing.
	LeastDivisor float64
	// TrustFrom and TrustTo: how far a printed line's light, over char's, may lie
	// below the plain tape's, so that the darkness under it is not believed at all
	// or wholly.
	TrustFrom, TrustTo float64
	// LighterLine is the light on a line over the plain tape's from which on the
	// line is a light one: its middle, not its faint edge. Texture beside dark
	// lines stays below, a light line lies above; scripts/margins counts the cells.
	LighterLine float64
	// EnoughCells is how many cells of a light line must cross the mark to take
	// a median of: a line that crosses has a hundred and more, one that only
	// touches the mark a few.
	EnoughCells int
	// AsDark is how far from char's light to the tape's a cell is as dark as
	// char. A black plate beside the tape is about as dark as char, a scorched
	// fringe is not: hardly a cell about a burn comes below. Chosen; the sample's
	// seed was not kept.
	AsDark float64
	// CoreAbove is the darkness from which on a cell is the mark's core: half way
	// from tape to char, where blur does not move an edge.
	CoreAbove float64
	// CrackMM is half the width of what may part a ring of char and leave its
	// inside a hole, mm. It must stay below half of a pen's line, or letters
	// close. Simulated burns have no cracks: it rests on common sense and not on
	// photos.
	CrackMM float64
	// LeastCoreCells is the smallest core that has a form, cells.
	LeastCoreCells int
	// EdgeEnds is the darkness, in the median of a ring of tape about the core, at
	// which the soft edge ends. Beyond it such medians stray by 0.03 from the
	// tape's own, which is its texture: on 94 marks the median ring's value
	// nearest to the limit is 0.039 (scripts/margins -seed 9501 -count 120). The
	// mark's size follows, and hardly its position, which CharAbove decides.
	EdgeEnds float64
	// StrandMeans and StrandScatters: in the soft edge a cell counts at most this
	// many times the median at its distance, and this many times the tape's
	// scatter more. It cuts strokes and tape edges that lead away from the mark.
	StrandMeans, StrandScatters float64

	// Whether it is a mark.

	// DiscCompact, with LeastCharRimMM, separates a disc whose middle is ash or burnt
	// through from writing that closes a loop: circle over core, 1 for a disc.
	DiscCompact float64
	// LeastCharRimMM is half the width of the char round ash or a hole, mm; a
	// pen's line is thinner.
	LeastCharRimMM float64
	// LeastCharredMM is the radius of the largest circle of char in a mark that
	// is no such disc, mm. Writing is strokes.
	LeastCharredMM float64
	// Near and Beyond are the surroundings, from and to so many mm from the mark,
	// of which the share as dark as the mark is taken: at its edge, and past a
	// printed line's width.
	Near, Beyond Annulus
	// MostOpenNear separates a burn on tape from a piece of a dark plate, or a burn
	// that reaches over the tape's edge onto one. Beside the mark, a burn of
	// 2.5 mm that ends where its tape ends on a black plate has 0.21 by the
	// circle's arc beyond the edge, one that ends 0.3 mm before it 0.08. Past the
	// lines, burns of 1.8 to 4.5 mm over the edge have 0.28 to 0.49.
	MostOpenNear float64
	// MostOpenBeyond does so past a line's width, where the burn that ends 0.3 mm
	// before the edge has 0.22.
	MostOpenBeyond float64
	// LineReach is how far past a line beside the mark is looked, in the line's
	// half widths: its width, and a tenth for those that are crossed at an angle.
	LineReach float64

	// Whether there are two.

	// LeastMarks is how many of the blobs must be a mark: with none, nothing is
	// measured.
	LeastMarks float64
	// RivalContrast and RivalArea: a second blob this dark and this large, against
	// the first, is looked at as a mark of its own; its form decides. The second
	// of two marks fired alike has about the first one's contrast and area: 0.89 to
	// 1.04 and 0.65 to 0.91 in 3 photos; 16 of 17 other blobs, of tape and pen, have
	// less contrast (scripts/margins -seed 9501 -count 120). A pen as dark as a mark
	// has the contrast too, and not the form.
	RivalContrast, RivalArea float64
	// RivalCompact: two separate discs fired into one tape have 1 each, an oval
	// half as wide as long 0.5; a felt pen's writing seldom more than 0.5.
	RivalCompact float64

	// Whether it can be measured.

	// BurntOut is where the camera's scale is taken to end, in linear light: above
	// it phones' tone curves flatten.
	BurntOut float64
	// ShineMM is how far from the core shine hides the mark's edge, mm.
	ShineMM float64
	// MostShine is the share of the tape within ShineMM that may be burnt out.
	// Shine on one side pulls the centre away from it.
	MostShine float64
	// VeilMM is how far off shine still lays a veil over one side of the mark, mm,
	// which shows in its edge being uncertain by VeiledEdgeMM or more.
	VeilMM, VeiledEdgeMM float64
	// MostVeil is the share within VeilMM that may be burnt out then.
	MostVeil float64
	// TapeBurntOut is the share from which on the tape itself is burnt out, and
	// there is no shine to speak of.
	TapeBurntOut float64
	// MostUneven is the unevenness of the light about the mark. It separates soft
	// shadows from a hard one through the burn, of which only the half in one
	// light is found: with a shadow that takes 70 % of the light (0.54) the found
	// half's centre is about a quarter of the burn's width off. Of 90 photos to be
	// measured the median has 0.024, 95 in 100 at most 0.078, and one 0.50, which
	// is refused (scripts/margins -seed 9501 -count 120).
	MostUneven float64

	// Centre and size.

	// CharAbove is the darkness from which on it counts for the centre, in
	// proportion. Round the char lies a scorched fringe, often drawn out to one
	// side by the air assist or by the tape's grain; the beam is where the char
	// is. Less takes the fringe in, more leaves too little of a pale scorch. Chosen
	// among 0, 0.25, 0.5 and 0.75 as that with the smallest error of 95 burns in 100;
	// the sample's seed was not kept. scripts/accuracy shows the errors of a set.
	CharAbove float64
	// SizeAbove is the darkness from which on it counts for the size: tape's
	// texture stays below.
	SizeAbove float64

	// How well the centre is known.

	// PaleAbove, HalfAbove and DeepAbove are the darknesses of the other sensible
	// choices of the mark's edge, in addition to SizeAbove: in proportion from PaleAbove
	// up, and as regions darker than HalfAbove and DeepAbove.
	PaleAbove, HalfAbove, DeepAbove float64
	// ChoiceWeight, FadeWeight and FringeWeight bring the distances between those
	// centres, to that of the whole darkness, and from that to the char's, to the
	// scatter about the truth.
	ChoiceWeight, FadeWeight, FringeWeight float64
	// GrainMM is the length over which the tape's texture and a phone's smoothing
	// make the errors of cells alike, mm.
	GrainMM float64
	// EdgeScatter is the part of the tape's scatter that a mark's soft edge shows.
	EdgeScatter float64
	// BlockMM is the side of the squares over which the mark's own scatter is
	// averaged, mm: coarser than a phone's smoothing, finer than a mark.
	BlockMM float64
	// WithinMM is how far inside the core such a square lies, mm, out of reach of
	// the soft edge.
	WithinMM float64
	// EnoughPairs of neighbouring squares; a mark with fewer is too small to know.
	EnoughPairs int
	// UnevenFromMM is where the light about the mark is taken from, mm from the
	// core; before that lies its soft edge. It ends at HaloMM.
	UnevenFromMM float64
	// Directions is how many sectors that light is taken in.
	Directions int
	// EvenEnough is the unevenness that smooth light has.
	EvenEnough float64
	// UnevenMM is the standard uncertainty, mm per axis, for each unit of
	// unevenness beyond EvenEnough: a shadow's or a tape's edge that runs through
	// the mark leaves its place within the mark unknown, and so the light that each
	// part of the mark would have had.
	UnevenMM float64

	// The word for its form; it does not move the centre.

	// Circular separates round from oval: minor over major size.
	Circular float64
	// Waist separates two overlapping discs from one mark: the width between them
	// over that of the narrower.
	Waist float64
	// FlatDepth is how far a straight side may bulge, of the mean radius.
	FlatDepth float64
	// FlatLength separates clipped marks from whole ones: the length of the straight
	// side over the mean radius. A circle has 0.56, an oval of 1.4 to 1 has 0.8,
	// half a disc 2.
	FlatLength float64
	// Rough separates ragged marks from smooth ones: the rms of the outline about its
	// ellipse, of the radius.
	Rough float64
}

// Annulus is what lies between two distances from a mark's edge, mm.
type Annulus struct{ FromMM, ToMM float64 }

// holds says whether a distance in mm lies in the annulus.
func (a Annulus) holds(mm float64) bool { return !(mm < a.FromMM || mm > a.ToMM) }

// DefaultSettings are those that every burn is measured with.
func DefaultSettings() Settings {
	return Settings{
		CoarseCells: 128, Levels: 18, DarkestLight: 2e-3, StrokeMM: 0.28,
		BorderCells: 1.5, MostBorderCells: 0,
		SmallestMM2: 0.5, LargestMM2: 80, LargestShare: 0.4,
		LeastInscribedMM: 0.42, LeastCompact: 0.28,
		EdgeMM: 0.5, TapeQuantile: 0.35, LeastContrast: 0.10, NestShare: 0.5, SizeExponent: 0.2,

		FineCells: 260, StepPX: 0.6, SurroundRadii: 1.6, HaloMM: 1.3, MarginMM: 1.0, TapeToMM: 1.9,
		CharQuantile: 0.2, LeastStep: 0.02, LeastDivisor: 0.2, TrustFrom: 0.35, TrustTo: 0.75,
		LighterLine: 1.1, EnoughCells: 20, AsDark: 0.25,
		CoreAbove: 0.5, CrackMM: 0.12, LeastCoreCells: 12,
		EdgeEnds: 0.04, StrandMeans: 2, StrandScatters: 3,

		DiscCompact: 0.75, LeastCharRimMM: 0.2, LeastCharredMM: 0.42,
		Near: Annulus{0.25, 0.45}, Beyond: Annulus{0.6, 0.9},
		MostOpenNear: 0.15, MostOpenBeyond: 0.3, LineReach: 2.2,

		LeastMarks: 1, RivalContrast: 0.7, RivalArea: 0.3, RivalCompact: 0.58,

		BurntOut: 0.93, ShineMM: 0.9, MostShine: 0.06,
		VeilMM: 2.2, VeiledEdgeMM: 0.04, MostVeil: 0.005, TapeBurntOut: 0.6,
		MostUneven: 0.48,

		CharAbove: 0.5, SizeAbove: 0.1,

		PaleAbove: 0.25, HalfAbove: 0.5, DeepAbove: 0.75,
		ChoiceWeight: 0.8, FadeWeight: 0.35, FringeWeight: 0.8,
		GrainMM: 0.15, EdgeScatter: 0.6, BlockMM: 0.25, WithinMM: 0.35, EnoughPairs: 6,
		UnevenFromMM: 0.35, Directions: 8, EvenEnough: 0.06, UnevenMM: 0.10,

		Circular: spot.CircularRatio, Waist: 0.90, FlatDepth: 0.04, FlatLength: 1.10, Rough: 0.055,
	}
}
