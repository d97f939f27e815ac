
# Capacity: net total, sensible and latent against airflow, with the load and the blower's taps.
set label 100 'Capacity by airflow' at screen 0.03,0.975 left font heading_font
set ylabel label_heat
stats sweep_csv using (heat(column(col_total))) name 'T' nooutput
stats sweep_csv using (on_first(heat(column(col_sensible)))) name 'A' nooutput
stats sweep_csv using (on_last(heat(column(col_sensible)))) name 'B' nooutput
stats sweep_csv using (on_last(heat(column(col_latent)))) name 'L' nooutput
top = has_load && load_sensible > T_max ? load_sensible : T_max
set yrange [0:top * 1.12]

# The load's name goes to the end where the sensible curve is farther from the load, on the side of
# the line where that curve is not. The curves' names go to their right ends.
on_right = abs(B_mean - load_sensible) > abs(A_mean - load_sensible)
load_side = (on_right ? B_mean : A_mean) > load_sensible ? -0.75 : 0.75
gap = load_sensible - B_mean
sensible_side = has_load && gap > 0 && gap < 0.09 * top ? -1.5 : 0.9
latent_side = L_mean > 0.09 * top ? -1.0 : 1.2
if (has_load) {
    load_text = sprintf('Sensible load %.1f', load_sensible)
    if (on_right) {
        set label 110 load_text at first x_last,load_sensible right offset 0,load_side front
    } else {
        set label 110 load_text at first x_first,load_sensible left offset 0,load_side front
    }
}

load_line = !has_load ? '' : \
    ", sweep_csv using (x_of(0)):(load_sensible) with lines linestyle 4 notitle"
marks = pick_line(0, top * 1.12).load_line.tap_keys \
    .tap_marks('heat(column(col_total))').tap_marks('heat(column(col_sensible))') \
    .tap_marks('heat(column(col_latent))')

plot sweep_csv using (x_of(0)):(heat(column(col_total))) with linespoints linestyle 1 \
        pointinterval 4 notitle, \
    '' using (x_of(0)):(heat(column(col_sensible))) with linespoints linestyle 2 \
        pointinterval 4 notitle, \
    '' using (x_of(0)):(heat(column(col_latent))) with linespoints linestyle 3 \
        pointinterval 4 notitle, \
    '' using (x_of(0)):(on_last(heat(column(col_total)))):('Total') with labels right \
        offset 0,0.9 textcolor rgb blue notitle, \
    '' using (x_of(0)):(on_last(heat(column(col_sensible)))):('Sensible') with labels right \
        offset 0,sensible_side textcolor rgb red notitle, \
    '' using (x_of(0)):(on_last(heat(column(col_latent)))):('Latent') with labels right \
        offset 0,latent_side textcolor rgb green notitle @marks
