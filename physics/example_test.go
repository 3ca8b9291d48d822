package physics_test

import (
	"fmt"

	"partsaloft/physics"
	"partsaloft/physics/rotor"
)

// A motor and a propeller from their labels on a stand: what they do at full throttle on 14.8 V.
func ExampleStand_Point() {
	air, err := rotor.StandardAir(0)
	if err != nil {
		fmt.Println(err)
		return
	}
	prop, err := rotor.New(rotor.Spec{DiameterM: 3.5 * 0.0254, PitchM: 2.6 * 0.0254, Blades: 3}, air)
	if err != nil {
		fmt.Println(err)
		return
	}
	law := physics.DefaultMotorLaw()
	motor := law.Motor(physics.MotorLabel{StatorM: 0.015, StatorHeightM: 0.007, KV: 2720, MassKg: 0.0152})
	stand := physics.Stand{Propeller: *prop, Motor: motor.Motor, ESC: law.ESC(0).ESC, ThrottleExponent: 1}
	at, err := stand.Point(14.8, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f N, %.0f0 W\n", at.ThrustN, at.PowerW/10)
	// Output:
	// 4 N, 120 W
}
