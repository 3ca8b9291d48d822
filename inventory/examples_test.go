package inventory

import (
	"path/filepath"
	"testing"
)

func TestExamplesRead(t *testing.T) {
	drawers, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(drawers) == 0 {
		t.Fatal("no example drawers", err)
	}
	for _, path := range drawers {
		if filepath.Base(path) == "shop.yaml" {
			o, err := LoadOffer(path)
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
		if _, err := Load(path); err != nil {
			t.Errorf("\n%v", err)
		}
	}
}
