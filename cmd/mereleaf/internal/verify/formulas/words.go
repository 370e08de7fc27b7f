package formulas

import "strings"

// shared returns what a symbol in a unit stands for wherever a declaration does
// not say otherwise; "" if it has no meaning of its own.
func shared(name, unit string) string {
	_, after, _ := strings.Cut(words, "\n"+name+" ["+unit+"] ")
	word, _, _ := strings.Cut(after, "\n")
	return word
}

// words are the symbols that mean the same in most formulas, with their units as
// in calculators.Check. They are sorted.
const words = `
A [m2] surface of the pond
C [mg/L] oxygen in the water
CO_2 [g/d] carbon dioxide
C_d [1] discharge coefficient
C_in [mg/L] nitrate of the tap water
D [m] bore of the pipe
D [mm] bore of the pipe
F [g/d] feed
H [m] head
H [mg/L] hardness as CaCO3
K [mg/L] nitrogen at which they grow half as fast
K_1 [mol/L] first constant of carbonic acid
K_2 [mol/L] second constant of carbonic acid
K_O [mg/L] oxygen at which they grow half as fast
K_w [mol/L] ion product of water
L [m] length of the pipe
L_F [cm] fork length
L_T [cm] total length
L_T [mm] total length
L_∞ [cm] final length
O_2 [g/d] oxygen used
O_2 [g/m3] oxygen in the water
O_2 [mg/L] oxygen in the water
P [1] share of protein in the feed
P_w [atm] pressure of water vapour
Q [L/h] flow
Q [m3/s] flow
R [g/m2/d] ammonia nitrogen that the film takes out
R [mg/kg/h] oxygen that fish take
R_0 [g/m2/d] the same at t_0
R_t [g/m2/d] ammonia nitrogen that the film takes out at the water's temperature
Re [1] Reynolds number
S [mg/L] total ammonia nitrogen in the water
SOTR [g/h] oxygen into clean water without any
S_1 [g/L] salt before
S_2 [g/L] salt after
T [K] absolute temperature of the water
TAN [g/d] ammonia nitrogen
U [m/s] wind speed
V [L] volume of water
V [m/s] velocity of the water
V [m3] volume of water
W [g] weight of the fish
Y [1] yield
Y [[Btu_IT]/[lb_av]] heat of evaporation
Y [kJ/kg] heat of evaporation
a [m2/m3] surface of the medium
b [1/d] decay
b [m] depth of the base
c [ug/L] limit
c_Cl [mg/L] chloride
c_Cl_2 [mg/L] chloramine as chlorine
c_N [mg/L] nitrite as nitrogen
c_NO_2 [mg/L] nitrite as NO2
c_new [mg/L] value of the new water
c_now [mg/L] value now
c_wanted [mg/L] value wanted
d [m] depth
f [1] share of the water changed
g [%/d] growth of the body weight
g [m/s2] acceleration by gravity
h [m] head lost
k [1/a] pace of growth
k [m/d] speed at which oxygen passes the surface
l [m] length
m [g] mass of salt
m [kg] mass of the stack
n [1] number of changes
p [mm] pitch of the holes
pH [[pH]] of the water
pK_1 [1] first constant of carbonic acid as its negative logarithm
pK_2 [1] second constant of carbonic acid as its negative logarithm
pK_a [1] acidity constant of ammonium as its negative logarithm
p_a [[in_i'Hg]] pressure of the vapour in the air
p_a [[psi]] pressure of the vapour in the air
p_a [kPa] pressure of the vapour in the air
p_w [[in_i'Hg]] pressure of the vapour at the water
p_w [[psi]] pressure of the vapour at the water
p_w [kPa] pressure of the vapour at the water
q [Pa] pressure of the wind
solids [g/d] dry solids
t [Cel] water temperature
t [h] time
t_0 [Cel] temperature at which the rate was measured
v [[mi_i]/h] wind speed
v [m/s] wind speed
w [1] share of the surface that is wet
w [[lb_av]/h/[ft_i]2] water lost
w [kg/m2/s] water lost
w [m] width
x [1] share of the water to renew
ΣK [1] sum of the factors of the fittings
ε [mm] roughness of the pipe
θ [1] factor of a degree
ρ [kg/m3] density of water
`
