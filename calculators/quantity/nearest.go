package quantity

import "strings"

// spellings are names of units that a refusal may propose, each as most people
// write it.
const spellings = `m,cm,mm,metres,meters,feet,inches,ft,in,yards,km,miles,
m²,sq ft,sq m,square feet,square metres,
L,litres,liters,mL,m³,cubic metres,cubic feet,cu ft,gal (US),gal (imp),gallons (US),gallons (imp),fl oz (US),fl oz (imp),pints (US),pints (imp),quarts (US),quarts (imp),cups,tbsp,tsp,
kg,g,mg,lb,oz,pounds,ounces,tonnes,stone,
°C,°F,Celsius,Fahrenheit,
L/h,L/min,m³/h,gal (US)/h,gal (imp)/h,gpm (US),gpm (imp),gph (US),gph (imp),
mg/L,g/L,ppm,µg/L,g/kg,ppt,%,°dH,dKH,dGH,°fH,°e,meq/L,
m/s,km/h,mph,ft/s,knots,
kPa,hPa,mbar,bar,psi,mmHg,inHg,atm,
W,kW,kWh,g/d,kg/d,oz/d,lb/d,days,hours,minutes,seconds,weeks,months,years`

// nearest returns up to three names of units of the field's dimension that are
// most like the one typed, best first, joined by "or"; "" if none is like it.
func (r reader) nearest(typed string) string {
	const most = 3
	var names [most]string
	var costs [most]int
	found := 0
	typed = lower(tidy(typed))
	wanted := MustUnit(r.units[0])
	for name := range strings.SplitSeq(spellings, ",") {
		name = strings.TrimSpace(name)
		cost := Distance(typed, lower(tidy(name)))
		if cost > 1+min(len(name), 11)/4 {
			continue
		}
		if u, err := ParseUnit(unitNamed(name, r.kind)); err != nil || !u.SameDimension(wanted) {
			continue
		}
		at := found
		for at > 0 && costs[at-1] > cost {
			at--
		}
		if at == most {
			continue
		}
		found = min(found+1, most)
		copy(names[at+1:], names[at:])
		copy(costs[at+1:], costs[at:])
		names[at], costs[at] = name, cost
	}
	return strings.Join(names[:found], " or ")
}

// Distance is how many slips of the finger part two words: the least count of bytes
// inserted, deleted, changed or swapped with the next.
func Distance(a, b string) int {
	var before []int // the row before the last
	last := make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := range len(a) {
		row := make([]int, len(b)+1)
		row[0] = i + 1
		for j := range len(b) {
			change := last[j]
			if a[i] != b[j] {
				change++
			}
			row[j+1] = min(change, last[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last = last, row
	}
	return last[len(b)]
}
