
# Capacity: net total, sensible and latent against airflow, with the load and the blower's taps. The
# load is met by what reaches the rooms in the air the house settles at, a curve of its own.
set label 100 'Capacity by airflow' at screen 0.03,0.975 left font heading_font
set ylabel label_heat
set key maxrows 4 at screen 0.52,0.065
set bmargin at screen 0.215
stats sweep_csv using (heat(column(col_total))) name 'T' nooutput
top = has_load && load_sensible > T_max ? load_sensible : T_max
if (has_carried) {
    stats sweep_csv using (heat(column(col_carried))) name 'C' nooutput
    if (C_max > top) { top = C_max }
}
set yrange [0:top * 1.06]

# All names are in the key: a curve that ends near another, or at the load, leaves no room for them.
carried_curve = !has_carried ? '' : \
    ", sweep_csv using (x_of(0)):(heat(column(col_carried))) with linespoints linestyle 7" \
    ." pointinterval 4 title carried_title"
load_line = !has_load ? '' : \
    ", sweep_csv using (x_of(0)):(load_sensible) with lines linestyle 4" \
    ." title sprintf('sensible load %.1f', load_sensible)"
marks = pick_line(0, top * 1.06).carried_curve.load_line.tap_keys \
    .tap_marks('heat(column(col_total))').tap_marks('heat(column(col_carried))') \
    .tap_marks('heat(column(col_latent))')

plot sweep_csv using (x_of(0)):(heat(column(col_total))) with linespoints linestyle 1 \
        pointinterval 4 title 'total', \
    '' using (x_of(0)):(heat(column(col_sensible))) with linespoints linestyle 2 \
        pointinterval 4 title sensible_title, \
    '' using (x_of(0)):(heat(column(col_latent))) with linespoints linestyle 3 \
        pointinterval 4 title 'latent' @marks
