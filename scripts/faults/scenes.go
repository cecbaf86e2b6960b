package main

import (
	"image"
	"image/color"
	"image/draw"
)

// at is a place of the target in px, right and up of the centre in mm. The photo
// that is changed is upright and hardly tilted, so the scale alone will do.
func (t truth) at(right, up float64) (x, y float64) {
	return t.CentrePx[0] + right*t.PxPerMM, t.CentrePx[1] - up*t.PxPerMM
}

// burnAt is a place as seen from the burn's centre.
func (t truth) burnAt(right, up float64) (x, y float64) {
	return t.at(t.Burn.RightMM+right, t.Burn.UpMM+up)
}

var (
	ink   = color.RGBA{18, 18, 20, 255}
	shine = color.RGBA{252, 252, 250, 255}
)

// penDot makes the burn pale, by mixing the light of the tape beside it in, and puts
// a dot of a felt pen on the tape.
func penDot(photo *image.RGBA, t truth) image.Image {
	x, y := t.burnAt(0, 0)
	besideX, besideY := t.burnAt(0.8*t.Burn.MajorMM, 0)
	tape := photo.RGBAAt(int(besideX), int(besideY))
	blend(photo, x, y, 0.7*t.Burn.MajorMM*t.PxPerMM, 0.6, tape)
	x, y = t.at(-3.0, -2.0)
	blend(photo, x, y, 1.2*t.PxPerMM, 1, ink)
	return photo
}

// penStroke draws a line of 0.8 mm from the burn's edge outward.
func penStroke(photo *image.RGBA, t truth) image.Image {
	for mm := 0.4 * t.Burn.MajorMM; mm < 0.4*t.Burn.MajorMM+4; mm += 0.05 {
		x, y := t.burnAt(-0.8*mm, 0.6*mm)
		blend(photo, x, y, 0.4*t.PxPerMM, 1, ink)
	}
	return photo
}

// gleam puts a reflection of 1 mm on the burn's edge.
func gleam(photo *image.RGBA, t truth) image.Image {
	x, y := t.burnAt(0.36*t.Burn.MajorMM, 0)
	blend(photo, x, y, 0.5*t.PxPerMM, 1, shine)
	return photo
}

// twoTargets lays a copy of the target, at half its size, into the photo's corner.
func twoTargets(photo *image.RGBA, t truth) image.Image {
	size := photo.Bounds().Size()
	small := image.NewRGBA(image.Rect(0, 0, size.X/2, size.Y/2))
	for y := range size.Y / 2 {
		for x := range size.X / 2 {
			small.SetRGBA(x, y, photo.RGBAAt(2*x, 2*y))
		}
	}
	x, y := t.at(0, 0)
	reach := int(6 * t.PxPerMM) // half the copy's side: its outer ring and bar
	middle := image.Pt(int(x)/2, int(y)/2)
	corner := image.Rect(0, 0, 2*reach, 2*reach).Add(image.Pt(20, size.Y-2*reach-20))
	draw.Draw(photo, corner, small, middle.Sub(image.Pt(reach, reach)), draw.Src)
	return photo
}
