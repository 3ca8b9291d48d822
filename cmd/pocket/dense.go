package main

// letters are those of ASCII that an element of a page holds as they are: all but NUL and the carriage return, which a
// browser changes, and <, which may begin a tag.
func letters() []byte {
	var list []byte
	for c := byte(1); c < 128; c++ {
		if c != '\r' && c != '<' {
			list = append(list, c)
		}
	}
	return list
}

const (
	base = 125
	// short is how many bits two letters hold at least; one bit more where the value stays under base².
	short    = 13
	mostLong = base*base - 1<<short
)

// dense writes bytes as text, 13 or 14 bits in two letters of a base of 125, the lowest bits first: 15 % longer than the
// bytes, where base64 is 33 %. The worker reads it.
func dense(content []byte) []byte {
	of := letters()
	text := make([]byte, 0, len(content)*23/20+4)
	bits, held := uint(0), 0
	for _, b := range content {
		bits |= uint(b) << held
		if held += 8; held > short {
			width := short
			if bits&(1<<short-1) < mostLong {
				width++
			}
			value := bits & (1<<width - 1)
			text = append(text, of[value%base], of[value/base])
			bits, held = bits>>width, held-width
		}
	}
	if held > 0 {
		text = append(text, of[bits%base])
		if held >= 7 {
			text = append(text, of[bits/base])
		}
	}
	return text
}
