
# Coil temperature: how cold the coil runs at each airflow, and how far that is from frost.
set label 100 'Coil temperature by airflow' at screen 0.03,0.975 left font heading_font
set ylabel label_temperature
set key maxrows 3 at screen 0.53,0.052
set bmargin at screen 0.19
stats sweep_csv using (temperature(column(col_suction))) name 'S' nooutput
stats sweep_csv using (temperature(column(col_adp))) name 'P' nooutput
low = S_min < frost ? S_min : frost
high = P_max > frost ? P_max : frost
if (has_taps) {
    stats taps_csv using (widen_at(col_suction, temperature(column(col_suction)))) nooutput
    stats taps_csv using (widen_at(col_adp, temperature(column(col_adp)))) nooutput
}
room = 0.12 * (high - low)
set yrange [low - room:high + room]
set label 110 sprintf('Frost line %.0f %s', frost, unit_temperature) at first x_last,frost \
    right offset 0,-0.8 front

marks = pick_line(low - room, high + room).tap_keys \
    .tap_marks('temperature(column(col_adp))').tap_marks('temperature(column(col_surface))') \
    .tap_marks('temperature(column(col_suction))')

plot sweep_csv using (x_of(0)):(temperature(column(col_adp))) with linespoints linestyle 1 \
        pointinterval 4 title 'apparatus dew point', \
    '' using (x_of(0)):(temperature(column(col_surface))) with linespoints linestyle 3 \
        pointinterval 4 title 'coldest surface', \
    '' using (x_of(0)):(temperature(column(col_suction))) with linespoints linestyle 2 \
        pointinterval 4 title 'saturated suction', \
    '' using (x_of(0)):(frost) with lines linestyle 4 notitle @marks
