# Heating: capacity by airflow on cold and warm days; below, the saturated discharge with its limit.
heating_csv = here.'heating.csv'
x_of(v) = flow(column(col_flow)) + 0 * v
curve(i, v) = column('day') == i && column('tap') == 0 ? v : NaN
tap(i, v) = column('day') == i && column('tap') > 0 && column('heats') == 0 ? v : NaN
heats(i, v) = column('day') == i && column('heats') == 1 ? v : NaN
array style_of[4] = [3, 2, 1, 7]

# A tap that moves no air has no row, and no name.
array tap_x[10]
do for [i = 1:10] { tap_x[i] = NaN }
note_tap(x) = column('tap') > 0 ? (tap_x[int(column('tap'))] = x, 0) : 0
if (has_taps) { stats heating_csv using (note_tap(flow(column(col_flow)))) nooutput }

stats heating_csv using (x_of(0)):(heat(column(col_heat))) name 'Q' nooutput
stats heating_csv using (x_of(0)):(temperature(column(col_head))) name 'T' nooutput
wide = 0.02 * (Q_max_x - Q_min_x)
set xrange [Q_min_x - wide:Q_max_x + wide]
high = T_max_y > limit ? T_max_y : limit
room = 0.06 * (high - T_min_y)

# Names are below the curves, where the capacity's axis from 0 leaves room, beside each other and
# beside the line of the tap advised.
name_gap = 0.055 * (Q_max_x - Q_min_x)
last_x = Q_min_x - 1
do for [i = 1:n_taps] {
    if (tap_x[i] == tap_x[i]) {
        last_x = tap_x[i] > last_x + name_gap || last_x < Q_min_x ? tap_x[i] : last_x + name_gap
        name = value('tap_name_'.i)
        if (strlen(name) > 10) { name = name[1:9].'…' }
        set label 200 + i name at first last_x, graph 0.03 left rotate by 90 \
            offset (i == advised ? -0.8 : 0),0 front
    }
}
if (advised > 0) {
    set arrow 220 from first tap_x[advised], graph 0 to first tap_x[advised], graph 1 nohead \
        linecolor rgb gray linewidth 1.5 back
}

set multiplot
set label 100 'Heating by airflow' at screen 0.03,0.975 left font heading_font
set label 120 label_heat at screen 0.03,0.892 left
set tmargin at screen 0.87
set bmargin at screen 0.57
set format x ''
set yrange [0:Q_max_y * 1.06]
unset key
tap_marks(value) = (!has_taps ? '' : \
        ", for [i = 1:days] heating_csv using (x_of(0)):(tap(i, ".value.")) with points linestyle 5" \
        ." notitle") \
    .(!has_heat_tap ? '' : ", for [i = 1:days] heating_csv using (x_of(0)):(heats(i, ".value.")) " \
        ."with points linestyle 6 notitle")
marks = tap_marks('heat(column(col_heat))')
plot for [i = 1:days] heating_csv using (x_of(0)):(curve(i, heat(column(col_heat)))) \
        with linespoints linestyle style_of[i] pointinterval 5 notitle @marks

unset label 100
unset label 101
do for [i = 1:n_taps] { unset label 200 + i }
set label 120 'Saturated discharge, '.unit_temperature at screen 0.03,0.532 left
set tmargin at screen 0.51
set bmargin at screen 0.245
set format x
set xlabel label_flow
set yrange [T_min_y - room:high + room]
set key at screen 0.52,0.075 center center vertical maxrows 4
marks = tap_marks('temperature(column(col_head))') \
    .", heating_csv using (x_of(0)):(curve(1, limit)) with lines linestyle 4 title sprintf('limit %.0f %s', limit, unit_temperature)" \
    .(!has_taps ? '' : ", keyentry with points linestyle 5 title 'blower tap'") \
    .(!has_heat_tap ? '' : ", keyentry with points linestyle 6 title 'the tap that heats'") \
    .(advised < 1 ? '' : ", keyentry with lines linecolor rgb gray linewidth 1.5 title 'tap advised'")
plot for [i = 1:days] heating_csv using (x_of(0)):(curve(i, temperature(column(col_head)))) \
        with linespoints linestyle style_of[i] pointinterval 5 title value('name_'.i) @marks
unset multiplot
