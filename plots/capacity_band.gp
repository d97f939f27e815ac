# Capacity with its spread: median, and the ranges that hold 68 % and 90 % of the cases drawn around
# this one, against the load and how far off that may be. Needs sweep.csv and sweep_uncertain.csv.
uncertain_csv = here.'sweep_uncertain.csv'
set key maxrows 4 at screen 0.52,0.065
set bmargin at screen 0.215
set label 100 'Capacity and how sure it is' at screen 0.03,0.975 left font heading_font
set ylabel label_heat
stats uncertain_csv using (heat(column(col_total_p95))) name 'T' nooutput
stats uncertain_csv using (on_last(heat(column(col_sensible_p05)))) name 'B' nooutput
load_high = load_sensible * (1 + 1.645 * load_sigma)
load_low = load_sensible * (1 - 1.645 * load_sigma)
top = has_load && load_high > T_max ? load_high : T_max
set yrange [0:top * 1.08]
stats uncertain_csv using (on_last(heat(column(col_latent_p05)))) name 'L' nooutput
# Under its band, or over it where the axis is too near: never on it.
latent_below = L_mean > 0.09 * top
latent_side = latent_below ? -0.8 : 0.8
latent_edge(v) = latent_below ? heat(column(col_latent_p05)) : heat(column(col_latent_p95))
set style fill solid noborder
# The name of the sensible band is under its right end, past the load when that is there.
gap = B_mean - load_sensible
sensible_side = has_load && gap > 0 && gap < 0.07 * top ? -1.9 : -0.8

# The ranges differ by shade, which a black-and-white print keeps; the medians by dashes. Total is
# drawn first: where the ranges of total and sensible meet, sensible is the one that decides.
set style line 11 linecolor rgb blue linewidth 0.8 dashtype 1
set style line 12 linecolor rgb red linewidth 0.8 dashtype (14,7)
set style line 13 linecolor rgb green linewidth 0.8 dashtype (14,6,3,6)

load_line = !has_load ? '' : \
    ", uncertain_csv using (x_of(0)):(load_sensible) with lines linestyle 4" \
    ." title sprintf('sensible load %.1f', load_sensible)" \
    .", uncertain_csv using (x_of(0)):(load_low) with lines linecolor rgb black linewidth 1.2 dashtype (2,8)" \
    ." title 'load, 5 to 95%'" \
    .", uncertain_csv using (x_of(0)):(load_high) with lines linecolor rgb black linewidth 1.2 dashtype (2,8) notitle"
# What is held against the load, where it is another: the pick passes by this one.
carried_curve = !has_carried ? '' : \
    ", sweep_csv using (x_of(0)):(heat(column(col_carried))) with linespoints linestyle 7" \
    ." pointinterval 4 title carried_title"
marks = pick_line(0, top * 1.08).carried_curve.load_line.tap_keys \
    .tap_marks('heat(column(col_carried))')

plot uncertain_csv using (x_of(0)):(heat(column(col_total_p05))):(heat(column(col_total_p95))) \
        with filledcurves fillcolor rgb '#CFE3F2' notitle, \
    '' using (x_of(0)):(heat(column(col_total_p16))):(heat(column(col_total_p84))) \
        with filledcurves fillcolor rgb '#8FBEE0' notitle, \
    '' using (x_of(0)):(heat(column(col_sensible_p05))):(heat(column(col_sensible_p95))) \
        with filledcurves fillcolor rgb '#F7D9C4' notitle, \
    '' using (x_of(0)):(heat(column(col_sensible_p16))):(heat(column(col_sensible_p84))) \
        with filledcurves fillcolor rgb '#EDAA82' notitle, \
    '' using (x_of(0)):(heat(column(col_latent_p05))):(heat(column(col_latent_p95))) \
        with filledcurves fillcolor rgb '#C9EBDF' notitle, \
    '' using (x_of(0)):(heat(column(col_latent_p16))):(heat(column(col_latent_p84))) \
        with filledcurves fillcolor rgb '#85CFB5' notitle, \
    '' using (x_of(0)):(heat(column(col_total_p50))) with linespoints linestyle 1 \
        pointinterval 4 notitle, \
    '' using (x_of(0)):(heat(column(col_sensible_p50))) with linespoints linestyle 2 \
        pointinterval 4 notitle, \
    '' using (x_of(0)):(heat(column(col_latent_p50))) with linespoints linestyle 3 \
        pointinterval 4 notitle, \
    '' using (x_of(0)):(heat(column(col_sensible_p05))) with lines linestyle 12 notitle, \
    '' using (x_of(0)):(heat(column(col_sensible_p95))) with lines linestyle 12 notitle, \
    '' using (x_of(0)):(heat(column(col_total_p05))) with lines linestyle 11 notitle, \
    '' using (x_of(0)):(heat(column(col_total_p95))) with lines linestyle 11 notitle, \
    '' using (x_of(0)):(heat(column(col_latent_p05))) with lines linestyle 13 notitle, \
    '' using (x_of(0)):(heat(column(col_latent_p95))) with lines linestyle 13 notitle, \
    keyentry with boxes fillcolor rgb '#B0B0B0' title '16 to 84 % of cases', \
    keyentry with boxes fillcolor rgb '#DEDEDE' title '5 to 95%', \
    '' using (x_of(0)):(on_last(heat(column(col_total_p95)))):('Total') with labels right \
        offset 0,0.7 textcolor rgb blue notitle, \
    '' using (x_of(0)):(on_last(heat(column(col_sensible_p05)))):('S'.sensible_title[2:*]) with labels right \
        offset 0,sensible_side textcolor rgb red notitle, \
    '' using (x_of(0)):(on_last(latent_edge(0))):('Latent') with labels right \
        offset 0,latent_side textcolor rgb green notitle @marks
