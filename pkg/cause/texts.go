package cause

// What each refusal says: what is wrong, then what to do next.
const (
	textBlurred  = "the photo is too blurred for the ring lines: wipe the lens, tap the target to focus, hold still and take it again"
	textTilted   = "the target is seen too much from the side: hold the phone squarely in front of it and take the photo again"
	textSmall    = "the target is too small in the photo: step closer until it fills a quarter to a half of the picture, and take it again"
	textGlare    = "light is reflected off the target: turn the lamp or the phone until the shine is gone, and take the photo again"
	textTiny     = "the picture is too small to be a photo of a target: take the original file from the phone"
	textNoTarget = "no ring target is found: let it fill a quarter to a half of the picture, in even light, and take the photo again"
	textUnclear  = "it is not clear which ring is which: press the tape down or use thinner tape, light it evenly, and take the photo again"
	textBent     = "rings and index mark do not lie as on a flat target seen by a camera: take the whole photo, neither cut nor straightened, or press the tape down and take it again"
	textBar      = "the index mark does not fit the rings that are seen: name the right target with --target, or uncover more of it and take the photo again"
	textIndex    = "the index mark is not seen: uncover it and take the photo again, or give --roll photo when the photo's top is the target's top"
)
