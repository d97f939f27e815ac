
# Coil temperature: how cold the coil runs at each airflow on the design day, and its coldest surface
# at the mildest hour, which is the one held against the frost line.
set label 100 'Coil temperature by airflow' at screen 0.03,0.975 left font heading_font
set ylabel label_temperature
set key maxrows 4 at screen 0.52,0.065
set bmargin at screen 0.215
stats sweep_csv using (temperature(column(col_suction))) name 'S' nooutput
stats sweep_csv using (temperature(column(col_adp))) name 'P' nooutput
low = S_min < frost ? S_min : frost
high = P_max > frost ? P_max : frost
if (has_mild) {
    stats sweep_csv using (temperature(column(col_mild))) name 'M' nooutput
    if (M_min < low) { low = M_min }
}
if (has_taps) {
    stats taps_csv using (widen_at(col_suction, temperature(column(col_suction)))) nooutput
    stats taps_csv using (widen_at(col_adp, temperature(column(col_adp)))) nooutput
}
room = 0.06 * (high - low)
set yrange [low - room:high + room]

mild_curve = !has_mild ? '' : \
    ", sweep_csv using (x_of(0)):(temperature(column(col_mild))) with linespoints linestyle 7" \
    ." pointinterval 4 title 'surface, mildest hour'"
frost_line = ", sweep_csv using (x_of(0)):(frost) with lines linestyle 4" \
    ." title sprintf('frost line %.0f %s', frost, unit_temperature)"
marks = pick_line(low - room, high + room).mild_curve.frost_line.tap_keys \
    .tap_marks('temperature(column(col_adp))').tap_marks('temperature(column(col_surface))') \
    .tap_marks('temperature(column(col_suction))') \
    .(has_mild ? tap_marks('temperature(column(col_mild))') : '')

plot sweep_csv using (x_of(0)):(temperature(column(col_adp))) with linespoints linestyle 1 \
        pointinterval 4 title 'apparatus dew point', \
    '' using (x_of(0)):(temperature(column(col_surface))) with linespoints linestyle 3 \
        pointinterval 4 title 'coldest surface', \
    '' using (x_of(0)):(temperature(column(col_suction))) with linespoints linestyle 2 \
        pointinterval 4 title 'saturated suction' @marks
