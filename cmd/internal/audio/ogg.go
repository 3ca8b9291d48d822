package audio

import (
	"bytes"
	"encoding/binary"
	"fmt"

	"partsaloft/inventory/sound"
)

// packets are the packets of the first logical stream in an Ogg file (RFC 3533), one after another.
type packets struct {
	rest     []byte   // the file behind the page that is open
	serial   uint32   // of the stream
	begun    bool     // the first page was read
	lacing   []byte   // lengths of the segments of the page that are left
	body     []byte   // what they hold
	broken   bool     // a page is damaged or lost
	together [][]byte // the parts of a packet
}

// next is the next packet, nil at the end. It may share the file's memory.
func (p *packets) next() []byte {
	p.together = p.together[:0]
	for {
		if len(p.lacing) == 0 && !p.page() {
			return nil
		}
		size, whole := 0, false
		n := 0
		for n < len(p.lacing) && !whole {
			size += int(p.lacing[n])
			whole = p.lacing[n] < 255
			n++
		}
		p.together = append(p.together, p.body[:size])
		p.lacing, p.body = p.lacing[n:], p.body[size:]
		if !whole {
			continue
		}
		if len(p.together) == 1 {
			return p.together[0][:size:size]
		}
		return bytes.Join(p.together, nil)
	}
}

// page opens the next page of the stream.
func (p *packets) page() bool {
	for len(p.rest) > 0 {
		if len(p.rest) < 27 || string(p.rest[:4]) != "OggS" || p.rest[4] != 0 {
			p.broken = true
			return false
		}
		segments := int(p.rest[26])
		if len(p.rest) < 27+segments {
			p.broken = true
			return false
		}
		lacing, size := p.rest[27:27+segments], 0
		for i, n := range lacing {
			if len(p.rest) < 27+segments+size+int(n) { // the file breaks off in this page
				lacing, p.broken = lacing[:i], true
				break
			}
			size += int(n)
		}
		flags, serial := p.rest[5], binary.LittleEndian.Uint32(p.rest[14:])
		body := p.rest[27+segments : 27+segments+size]
		p.rest = p.rest[27+segments+size:]
		if p.broken {
			p.rest = nil
		}
		first := flags&2 != 0
		if !p.begun {
			p.begun, p.serial, first = true, serial, false
		}
		if serial != p.serial || len(lacing) == 0 {
			continue // another stream's, such as a picture's
		}
		// Another recording may follow, or a page be lost.
		if first || flags&1 != 0 != (len(p.together) > 0) {
			p.broken = true
			return false
		}
		p.lacing, p.body = lacing, body
		return true
	}
	return false
}

func decodeOgg(file []byte) (*sound.Recording, error) {
	p := &packets{rest: file}
	head := p.next()
	switch {
	case has(head, 0, "\x01vorbis"):
		return decodeVorbis(p, head)
	case has(head, 0, "OpusHead"):
		return decodeOpus(p, head)
	case head == nil:
		return nil, fmt.Errorf("%w: its header is cut off", ErrDamaged)
	}
	return nil, ErrBrowser
}
