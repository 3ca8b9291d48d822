package inventory

import (
	"bytes"
	"errors"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"partsaloft/inventory/strict"
)

func seeds(f *testing.F) {
	f.Helper()
	for _, pattern := range []string{"testdata/bad/*.yaml", "../examples/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			f.Fatalf("no seeds at %s (%v)", pattern, err)
		}
		for _, name := range files {
			text, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
		}
	}
}

// FuzzRead is a property test: whatever the bytes, reading ends in a drawer that holds its own
// rules or in faults with positions inside the text.
func FuzzRead(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		began := time.Now()
		d, err := Read("fuzz.yaml", bytes.NewReader(text))
		if took := time.Since(began); took > patience {
			t.Errorf("reading %d bytes took %v", len(text), took)
		}
		if err != nil {
			var faults Faults
			if !errors.As(err, &faults) || len(faults) == 0 || d != nil {
				t.Fatalf("error %v (%T) with drawer %v", err, err, d)
			}
			checkFaults(t, text, faults)
			return
		}
		checkNumbers(t, "drawer", reflect.ValueOf(d).Elem())
		for _, list := range [][]string{d.IDs(KindMotor), d.IDs(KindProp), d.IDs(KindPack), d.IDs(KindFrame),
			d.IDs(KindBoard), d.IDs(KindExtra)} {
			seen := map[string]bool{}
			for _, id := range list {
				if !strict.ValidID(id) || seen[id] {
					t.Errorf("id %q is invalid or twice", id)
				}
				seen[id] = true
			}
		}
	})
}

// FuzzOffer is FuzzRead for lists of what one could buy.
func FuzzOffer(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		o, err := ReadOffer("fuzz.yaml", bytes.NewReader(text))
		var faults Faults
		switch {
		case err == nil:
			checkNumbers(t, "offer", reflect.ValueOf(o.Parts).Elem())
		case !errors.As(err, &faults) || len(faults) == 0 || o != nil:
			t.Fatalf("error %v (%T) with offer %v", err, err, o)
		default:
			checkFaults(t, text, faults)
		}
	})
}

// FuzzSizes is a property test: a free-text size gives numbers in range or an error in words.
func FuzzSizes(f *testing.F) {
	for _, s := range []string{"5.1x4.3x3", "65mm x 1.2 x 3", "2.5 × 1.9 × 3", "76mm x 40mm x 3", "5x4", "53472", "31mm",
		"4S 1300 100C", "1300mAh 4s 100c", "4S1300 6.7C", "2s 0.56Ah 80C", "", "xxx", "1404", "2207.5", "0702"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if p, err := parsePropSize(s); err == nil {
			alone := p.pitchIn == 0 && p.blades == 0 && !strings.ContainsAny(s, "xX×*") // a diameter with its unit
			if !(p.diameterIn >= 0.8 && p.diameterIn <= 20 && (alone || p.pitchIn >= 0.2 && p.pitchIn <= 20)) ||
				p.blades != 0 && (p.blades < 2 || p.blades > 8) {
				t.Errorf("%q gives %+v", s, p)
			}
		} else if err.Error() == "" {
			t.Errorf("%q: no words", s)
		}
		if p, err := parsePackSize(s); err == nil {
			if p.cells < 0 || p.cells > 14 || p.capacityMAh != 0 && !(p.capacityMAh >= 50 && p.capacityMAh <= 50000) ||
				p.dischargeC != 0 && !(p.dischargeC >= 0.5 && p.dischargeC <= 300) || p == (packSize{}) {
				t.Errorf("%q gives %+v", s, p)
			}
		}
		if d, h, err := parseStator(s); err == nil && !(d >= 4 && d <= 60 && h >= 1 && h <= 40) {
			t.Errorf("%q gives %g and %g", s, d, h)
		}
		if once := NamePlug(s); NamePlug(string(once)) != once {
			t.Errorf("plug %q is not at rest: %q, then %q", s, once, NamePlug(string(once)))
		}
	})
}

// checkNumbers walks a value and faults every number that is not finite.
func checkNumbers(t *testing.T, path string, v reflect.Value) {
	switch v.Kind() {
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			t.Errorf("%s is %g", path, x)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			checkNumbers(t, path, v.Elem())
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			checkNumbers(t, path, v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			checkNumbers(t, path+"."+v.Type().Field(i).Name, v.Field(i))
		}
	}
}
