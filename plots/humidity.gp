
# Settled humidity: where the house ends up at each airflow, with the blower as it is set and were
# it left on all the time, against the ceiling asked for.
set label 100 'Humidity the house settles at' at screen 0.03,0.975 left font heading_font
set ylabel 'Relative humidity, %'
set key maxrows 2 at screen 0.53,0.045
# A bare empty cell would be bridged; times one it is a NaN and leaves a gap.
percent(v) = v * 100.0
stats sweep_csv using (percent(column(col_rh))) name 'R' nooutput
stats sweep_csv using (percent(column(col_rh_fan))) name 'F' nooutput
has_fan = F_records > 0
low = has_ceiling && ceiling < R_min ? ceiling : R_min
high = has_ceiling && ceiling > R_max ? ceiling : R_max
if (has_fan) { if (F_max > high) { high = F_max } }
if (has_fan) { if (F_min < low) { low = F_min } }
room = 0.12 * (high - low) + 1
set yrange [low - room:high + room]
set format y '%.0f'
if (has_ceiling) {
    set label 110 sprintf('Ceiling %.0f %%', ceiling) at first x_last,ceiling right offset 0,0.7 front
}

fan_line = !has_fan ? '' : \
    ", sweep_csv using (x_of(0)):(percent(column(col_rh_fan))) with linespoints linestyle 2" \
    ." pointinterval 4 title 'fan always on'"
ceiling_line = !has_ceiling ? '' : \
    ", sweep_csv using (x_of(0)):(ceiling) with lines linestyle 4 notitle"
marks = fan_line.ceiling_line.pick_line(low - room, high + room) \
    .tap_names('percent(column(col_rh))').tap_marks('percent(column(col_rh))')

plot sweep_csv using (x_of(0)):(percent(column(col_rh))) with linespoints linestyle 1 \
        pointinterval 4 title 'fan as it is set' @marks
