package main

// letters are the printable letters of ASCII but ", & and <, which mean something in a page.
func letters() []byte {
	var list []byte
	for c := byte('!'); c <= '~'; c++ {
		if c != '"' && c != '&' && c != '<' {
			list = append(list, c)
		}
	}
	return list
}

// dense writes bytes as text, 13 bits in two letters of a base of 91, the lowest bits first: 8 % shorter than base64.
// The worker reads it.
func dense(content []byte) []byte {
	of := letters()
	text := make([]byte, 0, len(content)*16/13+4)
	bits, held := uint(0), 0
	for _, b := range content {
		bits |= uint(b) << held
		if held += 8; held >= 13 {
			value := bits & 0x1fff
			text = append(text, of[value%91], of[value/91])
			bits, held = bits>>13, held-13
		}
	}
	if held > 0 {
		text = append(text, of[bits%91])
		if held >= 7 {
			text = append(text, of[bits/91])
		}
	}
	return text
}
