# Compare: sensible capacity, as judged against the load, and latent of every indoor unit by airflow, one line style and
# one marker each; large open mark: the pick (the matched pair: as rated).
curves_csv = here.'compare_curves.csv'
array colors[7] = [black, blue, red, green, '#8A2F6B', '#4A4AA8', '#7A5200']
array marker[7] = [5, 7, 9, 11, 13, 15, 2]
array open_mark[7] = [4, 6, 8, 10, 12, 14, 3]
array dashes[7] = ['1', '1', '(14,7)', '(14,6,3,6)', '(4,5)', '(20,5)', '(8,4,3,4)']
do for [i = 1:units] {
    width = i == 1 ? 2.2 : 3
    eval sprintf("set style line %d linecolor rgb '%s' linewidth %g dashtype %s pointtype %d pointsize %g", \
        20 + i, colors[i], width, dashes[i], marker[i], 1.4*mark)
    eval sprintf("set style line %d linecolor rgb '%s' linewidth 2.5 pointtype %d pointsize %g", \
        40 + i, colors[i], open_mark[i], 3.2*mark)
}
unset key
stats curves_csv using (flow(column(col_flow))) name 'X' nooutput
pad = 0.02 * (X_max - X_min) + 1e-6
set xrange [X_min - pad:X_max + pad]
curve(k, v) = column('unit') == k - 1 && column('pick') == 0 ? v : NaN
chosen(k, v) = column('unit') == k - 1 && column('pick') == 1 ? v : NaN
x_of(v) = flow(column(col_flow)) + 0 * v

# One panel above the other, the names of the units below; floor, middle and row come from the
# header. A panel's name is above it: beside it there is no room when there are many units.
set multiplot
set rmargin at screen 0.915
unset ylabel
unit_heat = label_heat[strstrt(label_heat, ', ') + 2:*]
set label 100 'Indoor units compared' at screen 0.03,0.975 left font heading_font
do for [i = 1:units] {
    at = 0.025 + row * (units - i)
    set label 200 + i unit_name[i] at screen 0.17,at left
    set arrow 200 + i from screen 0.05,at to screen 0.14,at nohead linestyle 20 + i
    set label 300 + i '' at screen 0.095,at point linestyle 40 + i
    set label 400 + i unit_name[i][1:1] at first X_max + pad,beside_sensible[i] left offset 0.5,0 \
        textcolor rgb colors[i]
}
set tmargin at screen top
set bmargin at screen middle
set format x ''
set label 120 'Sensible, as judged against the load, '.unit_heat at screen 0.03,top + 0.022 left
set yrange [low_sensible:high_sensible]
set label 110 sprintf('load %.1f', load_sensible) at first X_max,load_sensible right \
    offset 0,-0.75 front
plot for [i = 1:units] curves_csv using (x_of(0)):(curve(i, heat(column(col_sensible)))) \
        with linespoints linestyle 20 + i pointinterval 6 notitle, \
    for [i = 1:units] curves_csv using (x_of(0)):(chosen(i, heat(column(col_sensible)))) \
        with points linestyle 40 + i notitle, \
    load_sensible with lines linestyle 4 notitle

unset label 100
unset label 101
unset label 110
do for [i = 1:units] {
    unset label 200 + i
    unset arrow 200 + i
    unset label 300 + i
    set label 400 + i unit_name[i][1:1] at first X_max + pad,beside_latent[i] left offset 0.5,0 \
        textcolor rgb colors[i]
}
set tmargin at screen middle - 0.055
set bmargin at screen floor
set format x
set xlabel label_flow
set label 120 'Latent, '.unit_heat at screen 0.03,middle - 0.055 + 0.022 left
set yrange [low_latent:high_latent]
plot for [i = 1:units] curves_csv using (x_of(0)):(curve(i, heat(column(col_latent)))) \
        with linespoints linestyle 20 + i pointinterval 6 notitle, \
    for [i = 1:units] curves_csv using (x_of(0)):(chosen(i, heat(column(col_latent)))) \
        with points linestyle 40 + i notitle
unset multiplot
