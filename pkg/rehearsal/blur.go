package rehearsal

import "math"

// gaussianBlur blurs in place, sigma in px; the border repeats the last pixel.
func gaussianBlur(pic *Picture, sigma float64) {
	kernel := gaussian(sigma)
	mid := scratchPicture(pic.Width, pic.Height)
	defer mid.release()
	inBlocks(pic.Height, func(from, to int) {
		for y := from; y < to; y++ {
			row := pic.Pix[3*y*pic.Width:][:3*pic.Width]
			blurRow(mid.Pix[3*y*pic.Width:][:3*pic.Width], row, kernel)
		}
	})
	inBlocks(pic.Height, func(from, to int) {
		for y := from; y < to; y++ {
			blurColumns(pic.Pix[3*y*pic.Width:][:3*pic.Width], mid, kernel, y)
		}
	})
}

// gaussian is half a normalised kernel, from its middle outward to 3.5 sigma.
func gaussian(sigma float64) []float32 {
	n := int(math.Ceil(3.5 * sigma))
	half := make([]float32, n+1)
	sum := 0.0
	for i := range half {
		v := math.Exp(-float64(i*i) / (2 * sigma * sigma))
		half[i] = float32(v)
		sum += v
		if i > 0 {
			sum += v
		}
	}
	for i := range half {
		half[i] /= float32(sum)
	}
	return half
}

func blurRow(out, in []float32, kernel []float32) {
	n, reach := len(in)/3-1, len(kernel)-1
	for x := 0; x <= n; x++ {
		if x == reach && n-reach > x {
			blurMiddle(out[3*x:3*(n-reach+1)], in, kernel)
			x = n - reach
			continue
		}
		for c := range 3 {
			sum := kernel[0] * in[3*x+c]
			for k := 1; k < len(kernel); k++ {
				sum += kernel[k] * (in[3*max(x-k, 0)+c] + in[3*min(x+k, n)+c])
			}
			out[3*x+c] = sum
		}
	}
}

// blurMiddle is blurRow where the kernel does not reach over the ends. in begins
// a kernel's reach before out.
func blurMiddle(out, in []float32, kernel []float32) {
	reach := 3 * (len(kernel) - 1)
	middle := in[reach : reach+len(out)]
	for i := range out {
		out[i] = kernel[0] * middle[i]
	}
	for k := 1; k < len(kernel); k++ {
		w := kernel[k]
		left, right := in[reach-3*k:][:len(out)], in[reach+3*k:][:len(out)]
		for i := range out {
			out[i] += w * (left[i] + right[i])
		}
	}
}

func blurColumns(out []float32, in *Picture, kernel []float32, y int) {
	line := func(j int) []float32 {
		j = min(max(j, 0), in.Height-1)
		return in.Pix[3*j*in.Width:][:3*in.Width]
	}
	for i, v := range line(y) {
		out[i] = kernel[0] * v
	}
	for k := 1; k < len(kernel); k++ {
		above, below := line(y-k), line(y+k)
		for i := range out {
			out[i] += kernel[k] * (above[i] + below[i])
		}
	}
}

// discBlur averages over a disc, radius in px, as a lens out of focus does.
// The disc's rim pixels count whole or not at all.
func discBlur(pic *Picture, radius float64) *Picture {
	out := scratchPicture(pic.Width, pic.Height)
	sums := rowSums(pic)
	inBlocks(pic.Height, func(from, to int) {
		for y := from; y < to; y++ {
			discRow(out, sums, radius, y)
		}
	})
	return out
}

// rowSums are running sums along each row: entry x holds the sum of the pixels before x.
func rowSums(pic *Picture) [][][3]float64 {
	sums := make([][][3]float64, pic.Height)
	inBlocks(pic.Height, func(from, to int) {
		for y := from; y < to; y++ {
			row := make([][3]float64, pic.Width+1)
			for x := range pic.Width {
				for c := range 3 {
					row[x+1][c] = row[x][c] + float64(pic.Pix[3*(y*pic.Width+x)+c])
				}
			}
			sums[y] = row
		}
	})
	return sums
}

func discRow(out *Picture, sums [][][3]float64, radius float64, y int) {
	n := int(radius)
	for x := range out.Width {
		var sum [3]float64
		count := 0
		for j := max(y-n, 0); j <= min(y+n, out.Height-1); j++ {
			w := int(math.Sqrt(radius*radius - float64((j-y)*(j-y))))
			a, b := max(x-w, 0), min(x+w+1, out.Width)
			row := sums[j]
			for c := range 3 {
				sum[c] += row[b][c] - row[a][c]
			}
			count += b - a
		}
		for c := range 3 {
			out.Pix[3*(y*out.Width+x)+c] = float32(sum[c] / float64(count))
		}
	}
}

// shake averages along a straight path centred on each pixel, so that nothing moves on average.
func shake(pic *Picture, length, deg float64) *Picture {
	out := scratchPicture(pic.Width, pic.Height)
	c, s := cosSin(deg)
	n := 2*int(math.Ceil(length)) + 1
	inBlocks(pic.Height, func(from, to int) {
		for y := from; y < to; y++ {
			for x := range pic.Width {
				var sum [3]float64
				for k := range n {
					t := length * (float64(k)/float64(n-1) - 0.5)
					addBilinear(&sum, pic, float64(x)+t*c, float64(y)+t*s)
				}
				for ch := range 3 {
					out.Pix[3*(y*pic.Width+x)+ch] = float32(sum[ch] / float64(n))
				}
			}
		}
	})
	return out
}

// addBilinear adds the picture's value between pixels; the border repeats.
func addBilinear(sum *[3]float64, pic *Picture, x, y float64) {
	x = min(max(x, 0), float64(pic.Width-1))
	y = min(max(y, 0), float64(pic.Height-1))
	ix, iy := min(int(x), pic.Width-2), min(int(y), pic.Height-2)
	u, v := x-float64(ix), y-float64(iy)
	at := 3 * (iy*pic.Width + ix)
	down := 3 * pic.Width
	for c := range 3 {
		p := pic.Pix[at+c:]
		top := float64(p[0])*(1-u) + float64(p[3])*u
		low := float64(p[down])*(1-u) + float64(p[down+3])*u
		sum[c] += top*(1-v) + low*v
	}
}
