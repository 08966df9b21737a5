// Package transient computes heat and moisture in a layered construction hour by
// hour, in one dimension, by the formulation of EN 15026: heat by conduction and
// by the latent heat of vapor, moisture by vapor diffusion and liquid transport,
// storage of both, with weather, rain, leaks and air flow as loads.
//
// [Compile] turns an [Input] (plain SI, no names of materials) into a [Model],
// which is immutable; [Model.Run] solves it with a [Workspace]. Runs of one or
// several models may go on in parallel, each with a workspace of its own.
//
// # Equations
//
//	(ρ·c + c_w·w)·∂T/∂t = −∂q/∂x − h_v·∂g_v/∂x     q = −λ(w)·∂T/∂x
//	∂w/∂t = −∂(g_v + g_l)/∂x + sources             g_v = −δ(w)·∂p/∂x
//	                                               g_l = −D(w)·∂w/∂x = −∂Φ/∂x
//
// w is a function of suction, p = p_sat(T)·exp(−s/(ρ_w·R_v·T)), Φ = ∫D dw.
// Liquid water that enters or leaves has the temperature of the place.
//
// # Method
//
// Nodes lie on the faces of the layers and between them, closer together toward
// the faces; each holds half of the cells beside it. Two solid layers in contact
// share a node, thus temperature and suction. A sheet or coat is a vapor
// resistance between two nodes or between a node and the air and lets no liquid
// pass. Time steps follow the second-order backward differentiation formula with
// variable steps; their local error is held by the content of each layer. Each
// step is solved by Newton's method on 2×2 block tridiagonal systems. Contents are
// booked from the same flows that cross the faces, so nothing is lost between
// steps; what the state holds is compared with the books in [Balance].
//
// # Conventions
//
// The literature leaves a choice in what follows. The effects in brackets are the
// largest change of the water of a layer in any hour of a year in the brick veneer
// wall of the tests, with a leak, under the measured weather of two cold cities;
// the first figure is for the sheathing, the second for the rain-wet veneer. A
// test measures them (TestConventions).
//
//   - Hourly values are values at the full hours and interpolated linearly;
//     [Input.Held] keeps each for its hour instead (0.2 %; 5.5 %). Means over
//     hours become values at full hours by [AtFullHours]. Rain and leaks are
//     amounts of an hour and flow evenly in it.
//   - The air of a surface comes with its vapor pressure; what weather humidity
//     refers to is settled where that was made (to ice below 0 °C: 0.5 %; 5.9 %).
//     Saturation in pores and at faces is over ice below 0 °C, unless
//     [Input.Saturation] says otherwise (over water: 0.5 %; 5.9 %). Water does not
//     freeze in the model; [LayerResult.Frost] tells where it would.
//   - Vapor permeability does not vary with temperature, as in the steady
//     methods (with T^0.81 of the air: 0.3 %; 1.1 %). How it varies with humidity
//     is settled in package sorption (sheathing by two cups instead of its curve:
//     4.0 %; 0.1 %; by the dry cup alone: 14 %; 4.2 %). By which permeability of
//     still air a resistance factor becomes one is settled in package kb: 2.0E−10
//     (1.95E−10: 0.3 %; 0.9 %; 1.75E−10: 1.5 %; 4.6 %).
//   - Air exchange is by mass at [AirDensity], so that a change per hour of a
//     gap carries the same heat and vapor at any temperature (by volume at the
//     density of the air outside: 0.2 %; 0.3 %).
//   - A node holds at most free saturation. What comes on top of it within a
//     step is counted as drained, rain that the outer face cannot take as
//     runoff (a fifth more than free saturation: 0.6 %; 0.5 %). For a layer that
//     does not suck, such as fibrous insulation, free saturation is thus what
//     does not run off, not what fills its pores.
//   - Liquid moves by the diffusivity of suction in a layer into which rain or a
//     leak flows in that hour, otherwise by that of redistribution.
//   - The latent heat is [LatentHeat] at any temperature (that of 30 °C, which
//     with that of −10 °C brackets one by temperature: 0.3 %; 1.1 %).
//   - No water condenses on a sheet itself, only at the nodes beside it. A coat
//     has the temperature of the node under it.
package transient

// Constants of the model.
const (
	// LatentHeat is the heat of evaporation in J/kg (EN 15026).
	LatentHeat = 2.5e6
	// AirDensity in kg/m³ and AirHeatCapacity in J/(kg·K) are those of the air
	// in cavities and leaks (ASHRAE Handbook—Fundamentals 2021, ch. 27).
	AirDensity      = 1.2
	AirHeatCapacity = 1006.0
	// AirVaporRatio is the vapor in kg that 1 kg of air carries per Pa of vapor
	// pressure at sea level, 0.622/P (ASHRAE Handbook—Fundamentals 2021, ch. 25,
	// eq. 25).
	AirVaporRatio = 0.622 / 101325.0
)
