package cli

import "io"

// sink is the output stream. It keeps the first error, for what writes help and completion does not.
type sink struct {
	io.Writer
	err error
}

func (s *sink) Write(p []byte) (int, error) {
	n, err := s.Writer.Write(p)
	if err != nil && s.err == nil {
		s.err = err
	}
	return n, err
}
