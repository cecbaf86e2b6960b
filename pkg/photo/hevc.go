package photo

// largestCoded is the size in pixels of the largest HEVC picture in a
// container, as the decoder's own configuration says it, which may be another
// than the container claims; 0 x 0 when nothing is understood.
func largestCoded(meta []byte) (width, height int64) {
	for _, property := range boxesIn(firstBox(firstBox(meta, "iprp"), "ipco")) {
		if property.kind != "hvcC" {
			continue
		}
		for _, sps := range parameterSets(property.body) {
			if w, h := spsSize(sps); w*h > width*height {
				width, height = w, h
			}
		}
	}
	return width, height
}

// parameterSets lists the sequence parameter sets in a decoder's configuration
// (ISO/IEC 14496-15, section 8.3.3.1): 22 bytes of a fixed part, then arrays of units
// of one kind, of which 33 is that of these sets (ITU-T H.265, table 7-1).
func parameterSets(configuration []byte) (sets [][]byte) {
	const fixedPart, kindSPS = 22, 33
	f := fields{data: configuration[min(fixedPart, len(configuration)):]}
	for range f.next(1) {
		kind := f.next(1) & 0x3F
		for range f.next(2) {
			length := int(f.next(2))
			if f.short || length > len(f.data) {
				return sets
			}
			if kind == kindSPS {
				sets = append(sets, f.data[:length])
			}
			f.data = f.data[length:]
		}
	}
	return sets
}

// spsSize reads the coded size from a sequence parameter set (ITU-T H.265,
// section 7.3.2.2); 0 x 0 when it makes no sense.
func spsSize(sps []byte) (width, height int64) {
	const nalHeader, parameterSetID, profile, level = 16, 4, 88, 8 // bits
	b := bitReader{data: unescaped(sps)}
	b.skip(nalHeader + parameterSetID)
	sublayers := int(b.bits(3))
	b.skip(1 + profile + level)
	if sublayers > 0 {
		flags := b.bits(16) // two for each sublayer, then padding
		for i := range sublayers {
			if flags>>(15-2*i)&1 == 1 {
				b.skip(profile)
			}
			if flags>>(14-2*i)&1 == 1 {
				b.skip(level)
			}
		}
	}
	b.golomb() // its number
	if chroma := b.golomb(); chroma == 3 {
		b.skip(1)
	}
	width, height = int64(b.golomb()), int64(b.golomb())
	if b.at > 8*len(b.data) {
		return 0, 0
	}
	return width, height
}

// unescaped drops the 3 that stands behind two zero bytes (ITU-T H.265, section 7.3.1.1).
func unescaped(nal []byte) []byte {
	out := make([]byte, 0, len(nal))
	zeros := 0
	for _, v := range nal {
		if zeros >= 2 && v == 3 {
			zeros = 0
			continue
		}
		zeros++
		if v != 0 {
			zeros = 0
		}
		out = append(out, v)
	}
	return out
}

// bitReader reads bits from the highest of each byte; zeros beyond the end.
type bitReader struct {
	data []byte
	at   int // bits read
}

func (b *bitReader) skip(n int) { b.at += n }

func (b *bitReader) bits(n int) (v uint32) {
	for range n {
		v <<= 1
		if b.at < 8*len(b.data) {
			v |= uint32(b.data[b.at/8]>>(7-b.at%8)) & 1
		}
		b.at++
	}
	return v
}

// mostZeros is how many zeros an Exp-Golomb code below 2^31 begins with.
const mostZeros = 30

// golomb reads a number in Exp-Golomb code (ITU-T H.265, section 9.2), below 2^31: n
// zeros, a one, and n bits x give 2^n - 1 + x.
func (b *bitReader) golomb() uint32 {
	zeros := 0
	for b.at < 8*len(b.data) && b.bits(1) == 0 {
		zeros++
	}
	if zeros > mostZeros {
		b.at = 8*len(b.data) + 1 // no such number
		return 0
	}
	return 1<<zeros - 1 + b.bits(zeros)
}
