# Common to the plots of a sweep: its files, the airflow axis, the blower's taps and the pick.
sweep_csv = here.'sweep.csv'
# The program puts the taps into the script: names with quotes are too much for gnuplot's reading of
# CSV.
taps_csv = exists('taps_inside') ? '$taps' : here.'taps.csv'
set tmargin at screen (has_taps ? 0.76 : 0.89)
set xlabel label_flow

# Names of the blower taps are above the frame, where no curve can run through them.
tap_label(row) = strlen(strcol(col_tap)) > 12 ? strcol(col_tap)[1:11].'…' : strcol(col_tap)
is_pick(row) = column(col_pick) == 1
at_tap(v) = is_pick(0) ? NaN : v
at_pick(v) = is_pick(0) ? v : NaN
# The pick is a tap, or without taps an airflow of the sweep.
pick_csv = has_taps ? taps_csv : sweep_csv
stats pick_csv using (is_pick(0)) name 'K' nooutput
has_pick = K_max == 1

# Names run into each other where taps move nearly the same air. So they are spread: half way between
# what pushing them to the right and what pushing them to the left would give, and inside the frame;
# a thread leads from each name to its tap.
array tap_x[10]
array tap_name[10]
array name_x[10]
array from_right[10]
n_taps = 0
note(x, name) = x == x ? (n_taps = n_taps + 1, tap_x[n_taps] = x, tap_name[n_taps] = name, 1) : 0
# A second column would make stats fit a line, and warn where there are but two points.
stats sweep_csv using (flow(column(col_flow)) + 0 * column(col_total)) name 'X' nooutput
if (has_taps) { stats taps_csv using (note(flow(column(col_flow)), tap_label(0))) nooutput }
# Taps may move less or more air than the sweep looks at.
low_x = n_taps > 0 && tap_x[1] < X_min ? tap_x[1] : X_min
high_x = n_taps > 0 && tap_x[n_taps] > X_max ? tap_x[n_taps] : X_max
name_gap = 0.058 * (high_x - low_x)
larger(a, b) = a > b ? a : b
smaller(a, b) = a < b ? a : b
do for [i = 1:n_taps] { name_x[i] = i == 1 ? tap_x[1] : larger(tap_x[i], name_x[i - 1] + name_gap) }
do for [j = 1:n_taps] {
    i = n_taps + 1 - j
    from_right[i] = j == 1 ? tap_x[i] : smaller(tap_x[i], from_right[i + 1] - name_gap)
}
do for [i = 1:n_taps] {
    name_x[i] = larger(0.5 * (name_x[i] + from_right[i]), low_x + (i - 1) * name_gap)
    name_x[i] = smaller(name_x[i], high_x - (n_taps - i) * name_gap)
    set arrow 200 + i from first tap_x[i], graph 1 to first name_x[i], graph 1.035 nohead \
        linecolor rgb gray linewidth 1
    set label 200 + i tap_name[i] at first name_x[i], graph 1.045 left rotate by 50
}
if (has_taps) { set border 7 }

# Taps beyond the sweep may also lie above or below its curves: widens low..high, where there is one.
widen(v) = (low = smaller(low, v), high = larger(high, v))
widen_at(name, v) = strlen(strcol(name)) > 0 ? (widen(v), 1) : 0

# Pieces of a plot command, as text for a macro: gnuplot opens a file even for a loop of no turns,
# and without taps there is none. `value` is an expression of the tap's row.
tap_keys = (!has_taps ? '' : ", keyentry with points linestyle 5 title 'blower tap'") \
    .(has_pick ? ", keyentry with points linestyle 6 title 'the pick'" : '')
tap_marks(value) = (!has_taps ? '' : \
    ", taps_csv using (x_of(0)):(at_tap(".value.")) with points linestyle 5 notitle") \
    .(has_pick ? ", pick_csv using (x_of(0)):(at_pick(".value.")) with points linestyle 6 notitle" : '')
# An upright line through the pick, over the whole y range low..high.
pick_line(low, high) = !has_pick ? '' : \
    sprintf(", pick_csv using (at_pick(x_of(0))):(%.9g):(0):(%.9g)", low, high - low) \
    .' with vectors nohead linecolor rgb gray linewidth 1.5 notitle'

x_of(v) = flow(column(col_flow)) + 0 * v
x_pad = 0.02 * (high_x - low_x) + 1e-6
set xrange [low_x - x_pad:high_x + x_pad]
x_last = X_max
on_last(v) = flow(column(col_flow)) == x_last ? v : NaN
