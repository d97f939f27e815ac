# Common to the plots of a sweep: its files, the airflow axis, the blower's taps and the pick.
sweep_csv = here.'sweep.csv'
taps_csv = here.'taps.csv'
set tmargin at screen (has_taps ? 0.775 : 0.89)
set xlabel label_flow

# Names of the blower taps stand above the frame, where no curve can run through them.
tap_label(row) = strlen(strcol(col_tap)) > 13 ? strcol(col_tap)[1:12].'…' : strcol(col_tap)
is_pick(row) = column(col_pick) == 1
at_tap(v) = is_pick(0) ? NaN : v
at_pick(v) = is_pick(0) ? v : NaN
# The pick is a tap, or without taps an airflow of the sweep.
pick_csv = has_taps ? taps_csv : sweep_csv
stats pick_csv using (is_pick(0)) name 'K' nooutput
has_pick = K_max == 1
if (has_taps) {
    set x2tics rotate by 50 left offset 0,0 scale 0.6 textcolor rgb black
    set x2tics ()
    set border 7
}

# Pieces of a plot command, as text for a macro: gnuplot opens a file even for a loop of no turns,
# and without taps there is none. `value` is an expression of the tap's row.
tap_names(value) = (!has_taps ? '' : \
    ", taps_csv using (x_of(0)):(".value."):x2tic(tap_label(0)) with points pointtype -1 notitle" \
    .", keyentry with points linestyle 5 title 'blower tap'") \
    .(has_pick ? ", keyentry with points linestyle 6 title 'the pick'" : '')
tap_marks(value) = (!has_taps ? '' : \
    ", taps_csv using (x_of(0)):(at_tap(".value.")) with points linestyle 5 notitle") \
    .(has_pick ? ", pick_csv using (x_of(0)):(at_pick(".value.")) with points linestyle 6 notitle" : '')
# An upright line through the pick, over the whole y range low..high.
pick_line(low, high) = !has_pick ? '' : \
    sprintf(", pick_csv using (at_pick(x_of(0))):(%.9g):(0):(%.9g)", low, high - low) \
    .' with vectors nohead linecolor rgb grey linewidth 1.5 notitle'

x_of(v) = flow(column(col_flow)) + 0 * v
stats sweep_csv using (flow(column(col_flow))):(column(col_total)) name 'X' nooutput
x_pad = 0.02 * (X_max_x - X_min_x) + 1e-6
set xrange [X_min_x - x_pad:X_max_x + x_pad]
set x2range [X_min_x - x_pad:X_max_x + x_pad]
x_last = X_max_x
x_first = X_min_x
on_last(v) = flow(column(col_flow)) == x_last ? v : NaN
on_first(v) = flow(column(col_flow)) == x_first ? v : NaN
