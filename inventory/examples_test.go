package inventory

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// TestExamplesRead: every example drawer reads without a fault, the shop's list with its prices.
func TestExamplesRead(t *testing.T) {
	for _, path := range exampleFiles(t) {
		if filepath.Base(path) == "shop.yaml" {
			o, err := ReadOffer(filepath.Base(path), bytes.NewReader(example(t, path)))
			if err != nil {
				t.Errorf("\n%v", err)
				continue
			}
			for _, id := range o.Parts.IDs(KindMotor) {
				if o.Price(KindMotor, id) == (Price{}) {
					t.Errorf("%s: motor %s has no price", path, id)
				}
			}
			continue
		}
		if _, err := Read(filepath.Base(path), bytes.NewReader(example(t, path))); err != nil {
			t.Errorf("\n%v", err)
		}
	}
}

func example(t testing.TB, path string) []byte {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func exampleFiles(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(files) < 2 {
		t.Fatal("no example drawers", err)
	}
	return files
}

func BenchmarkRead(b *testing.B) {
	text := example(b, "../examples/club.yaml")
	for b.Loop() {
		if _, err := Read("club.yaml", bytes.NewReader(text)); err != nil {
			b.Fatal(err)
		}
	}
}
