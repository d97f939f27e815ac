# Superheat: valve and piston against outdoor temperature; below, what leaves the coil when it
# floods. Where it never does, a sentence takes the place of the lower graph.
csv = here.'metering.csv'
unset key
set xrange [*:*]
at(v) = temperature(column(col_outdoor)) + 0 * v
degrees(v) = v * 1.0
stats csv using (at(0)):(degrees(column(col_valve))) name 'V' nooutput
stats csv using (at(0)):(degrees(column(col_piston))) name 'P' nooutput
stats csv using (at(0)):(100 * column(col_piston_quality)) name 'Q' nooutput
x_low = V_min_x
x_high = V_max_x
wide = 0.02 * (x_high - x_low)
set xrange [x_low - wide:x_high + wide]
top = V_max_y > P_max_y ? V_max_y : P_max_y
floods = Q_min_y < 100
# The temperature the superheat is gone at, for the shaded part.
dry(v) = column(col_piston_quality) < 1 ? at(v) : NaN
if (floods) {
    stats csv using (dry(0)) name 'F' nooutput
    set object 1 rectangle from first F_min,graph 0 to first x_high + wide,graph 1 behind \
        fillcolor rgb '#E6E6E6' fillstyle solid noborder
}
# Names: the valve's over its right end, the piston's beside its third point, where it falls away.
on_last(v) = at(0) == V_max_x ? v : NaN
on_third(v) = $0 == 2 ? v : NaN
has_day = design_day > x_low && design_day < x_high

set multiplot
set label 100 'Superheat on hot and mild days' at screen 0.03,0.975 left font heading_font
set label 120 'Superheat at the coil outlet, '.unit_superheat at screen 0.03,0.882 left
set tmargin at screen 0.86
set bmargin at screen (floods ? 0.46 : 0.165)
label_outdoor = 'Outdoor '.(label_temperature[1:1] eq 'T' ? 't'.label_temperature[2:*] : label_temperature)
set yrange [-0.04 * top:top * 1.1]
if (has_day) {
    set arrow 130 from first design_day,graph 0 to first design_day,graph 1 nohead \
        linecolor rgb gray linewidth 1.5
}
# Nothing runs through the lower left of the lower graph: there the coil still gives vapor only. In
# the upper one the lines fall to the lower right.
day_left = design_day > 0.65 * x_low + 0.35 * x_high
if (floods) {
    set format x ''
    set label 131 'floods' at first x_high,graph 0.13 right
} else {
    set xlabel label_outdoor
    set label 131 'No liquid leaves the coil on any of these days.' at screen 0.03,0.035 left
}
if (has_day && !floods) {
    if (day_left) {
        set label 130 'design day' at first design_day,graph 0.06 right offset -0.6,0
    } else {
        set label 130 'design day' at first design_day,graph 0.06 left offset 0.6,0
    }
}
plot csv using (at(0)):(degrees(column(col_valve))) with linespoints linestyle 1 pointinterval 2, \
    '' using (at(0)):(degrees(column(col_piston))) with linespoints linestyle 2 pointinterval 2, \
    '' using (at(0)):(on_last(degrees(column(col_valve)))):('valve') with labels right \
        offset 0,0.9 textcolor rgb blue, \
    '' using (at(0)):(on_third(degrees(column(col_piston)))):('piston') with labels left \
        offset 0.8,0.9 textcolor rgb red

if (floods) {
    unset label 100
    unset label 101
    unset label 131
    set label 120 'Vapor leaving the coil, % by mass' at screen 0.03,0.422 left
    set tmargin at screen 0.40
    set bmargin at screen 0.12
    set format x
    set xlabel label_outdoor
    low = Q_min_y - 0.15 * (100 - Q_min_y)
    set yrange [low:100 + 0.15 * (100 - low)]
    if (has_day) {
        if (day_left) {
            set label 130 'design day' at first design_day,graph 0.1 right offset -0.6,0
        } else {
            set label 130 'design day' at first design_day,graph 0.1 left offset 0.6,0
        }
    }
    plot csv using (at(0)):(100 * column(col_valve_quality)) with linespoints linestyle 1 \
            pointinterval 2, \
        '' using (at(0)):(100 * column(col_piston_quality)) with linespoints linestyle 2 \
            pointinterval 2
}
unset multiplot
