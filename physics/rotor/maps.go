package rotor

import "sync"

// Maps makes props and remembers their rotor maps, so that props of the same blade, polar and air share one. It is
// safe for concurrent use; nil remembers nothing.
type Maps struct {
	mutex sync.Mutex
	made  map[mapOf]*rememberedMap
}

// mapOf is all that a map follows from.
type mapOf struct {
	blades           int
	radiusM, twisted float64
	stations         [stationCount]station
	polar            Polar
	air              Air
}

type rememberedMap struct {
	once sync.Once
	m    *Map
	err  error
}

// New is the package's New.
func (s *Maps) New(spec Spec, air Air) (*Propeller, error) {
	law := DefaultLaw()
	return law.with(spec, air, s.of)
}

// of is NewMap.
func (s *Maps) of(blade Blade, polar Polar, air Air) (*Map, error) {
	if s == nil || len(blade.stations) != stationCount {
		return NewMap(blade, polar, air)
	}
	key := mapOf{blades: blade.Blades, radiusM: blade.RadiusM, twisted: blade.SoftTwist, polar: polar, air: air}
	copy(key.stations[:], blade.stations)
	s.mutex.Lock()
	if s.made == nil {
		s.made = map[mapOf]*rememberedMap{}
	}
	one := s.made[key]
	if one == nil {
		one = new(rememberedMap)
		s.made[key] = one
	}
	s.mutex.Unlock()
	one.once.Do(func() { one.m, one.err = NewMap(blade, polar, air) })
	return one.m, one.err
}
