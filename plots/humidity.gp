
# Settled humidity: where the house ends up at each airflow, with the blower as set and with
# the blower always on, and the highest humidity allowed.
set label 100 'Humidity the house settles at' at screen 0.03,0.975 left font heading_font
set ylabel 'Relative humidity, %'
set key maxrows 3 at screen 0.52,0.052
set bmargin at screen 0.19
# A bare empty cell would be bridged; times one it is a NaN and leaves a gap.
percent(v) = v * 100.0
stats sweep_csv using (percent(column(col_rh))) name 'R' nooutput
# A house that settles nowhere with the fan on has no such curve, and stats would stop at it.
stats sweep_csv using (strlen(strcol(col_rh_fan)) > 0 ? 1 : 0) name 'N' nooutput
has_fan = N_max > 0 && !fan_on # else it is the curve itself
if (has_fan) {
    stats sweep_csv using (percent(column(col_rh_fan))) name 'F' nooutput
}
low = has_ceiling && ceiling < R_min ? ceiling : R_min
high = has_ceiling && ceiling > R_max ? ceiling : R_max
if (has_fan) { if (F_max > high) { high = F_max } }
if (has_fan) { if (F_min < low) { low = F_min } }
if (has_taps) { stats taps_csv using (widen_at(col_rh, percent(column(col_rh)))) nooutput }
room = 0.12 * (high - low) + 1
set yrange [low - room:high + room]
set format y '%.0f'

fan_line = !has_fan ? '' : \
    ", sweep_csv using (x_of(0)):(percent(column(col_rh_fan))) with linespoints linestyle 2" \
    ." pointinterval 4 title 'fan ON'"
ceiling_line = !has_ceiling ? '' : \
    ", sweep_csv using (x_of(0)):(ceiling) with lines linestyle 4" \
    ." title sprintf('highest allowed %.0f%%', ceiling)"
marks = fan_line.ceiling_line.pick_line(low - room, high + room) \
    .tap_keys.tap_marks('percent(column(col_rh))')

plot sweep_csv using (x_of(0)):(percent(column(col_rh))) with linespoints linestyle 1 \
        pointinterval 4 title fan_on ? 'fan ON' : 'fan AUTO' @marks
