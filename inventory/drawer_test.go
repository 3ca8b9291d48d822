package inventory

import (
	"os"
	"testing"
)

func TestTry(t *testing.T) {
	for _, p := range os.Args {
		_ = p
	}
	d, err := Load("../examples/club.yaml")
	if err != nil {
		t.Fatal("\n" + err.Error())
	}
	t.Log(len(d.Motors), d.Motors[3])
}
