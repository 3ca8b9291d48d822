package inventory

// Chemistry is a pack's cell chemistry as a pilot writes it.
type Chemistry string

// The chemistries. A pack without one is read as LiPo.
const (
	LiPo  Chemistry = "lipo"
	LiHV  Chemistry = "lihv"
	LiIon Chemistry = "liion"
)

// Pack is a kind of battery pack in the drawer.
type Pack struct {
	Part `yaml:",inline"`

	Cells              int           `yaml:"cells" check:"min=1,max=14"`
	CapacityMAh        float64       `yaml:"capacity_mah" check:"also=mah,min=50,max=50000,unit=mAh"`
	DischargeC         float64       `yaml:"discharge_c" check:"also=c|c_rating|crating,min=0.5,max=300,unit=C"`
	Size               string        `yaml:"size"`
	BurstC             *float64      `yaml:"burst_c" check:"min=0.5,max=600,unit=C"`
	Chemistry          Chemistry     `yaml:"chemistry" check:"oneof=lipo|lihv|liion"`
	MassG              *float64      `yaml:"mass_g" check:"min=1,max=5000,unit=g,also=weight_g|weight|wt|grams"`
	Connector          Plug          `yaml:"connector" check:"also=plug,len=40"`
	CellResistanceMohm *float64      `yaml:"cell_resistance_mohm" check:"also=ir|ir_mohm|resistance_mohm|internal_resistance,min=0.2,max=500,unit=milliohm"`
	Cycles             *int          `yaml:"cycles" check:"min=0,max=2000"`
	Condition          PackCondition `yaml:"condition" check:"oneof=sound|retired"`
	SizeMm             *[3]float64   `yaml:"size_mm" check:"min=2,max=400,unit=mm"`
}

// CycleCount is how many flights the pack has behind it, 0 if it is not given.
func (p *Pack) CycleCount() int {
	if p.Cycles == nil {
		return 0
	}
	return *p.Cycles
}
