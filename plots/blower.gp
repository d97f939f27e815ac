
# Blower against ducts: each tap moves less air against more static; the ducts need more static
# for more air. A tap runs where its curve meets the ducts'.
set label 100 'Blower taps and duct system' at screen 0.03,0.975 left font heading_font
set xlabel label_flow
set ylabel label_static
blower_csv = here.'blower.csv'
points_csv = here.'blower_points.csv'
flow_name = 'airflow_'.airflow_key
static_name = 'static_'.static_key
x(v) = flow(column(flow_name)) + 0 * v
y(v) = static(column(static_name)) + 0 * v
curve(i, v) = column('series') == i ? v : NaN
# From the header: names with quotes are too much for gnuplot's reading of CSV.
tap_name(row) = strlen(name(row)) > 13 ? name(row)[1:12].'…' : name(row)
name(row) = value('name_'.int(column('series')))

stats blower_csv using (column('series') > 0 ? x(0) : NaN):(y(0)) name 'A' nooutput
span = A_max_x - A_min_x
# Ducts far freer than the blower would squeeze the tap curves into a corner: the frame is theirs.
top = limit > A_max_y ? limit : A_max_y
if (n_points > 0) {
    stats points_csv using (y(0)) name 'P' nooutput
    if (P_max > top) { top = P_max < 2 * top ? P_max : 2 * top }
}
high = 1.12 * top
set xrange [A_min_x - 0.25 * span:A_max_x + 0.05 * span]
set x2range [A_min_x - 0.25 * span:A_max_x + 0.05 * span]
set yrange [0:high]
# Five tics or so, a round number apart: more would run into each other.
rough = 1.3 * span / 5
unit = 10 ** floor(log10(rough))
set xtics unit * (rough / unit <= 2 ? 2 : rough / unit <= 5 ? 5 : 10)
set tmargin at screen 0.775
set x2tics rotate by 50 left offset 0,0 scale 0.6 textcolor rgb black
set x2tics ()
set border 7
if (limit > 0) {
    set arrow 1 from graph 0, first limit to graph 1, first limit nohead front linestyle 4
    set style textbox opaque margins 0.3,0 fillcolor rgb 'white' noborder
    set label 110 'the blower''s limit' at graph 0.02, first limit left offset 0,0.7 front boxed
}

set style line 51 linecolor rgb black linewidth 4 dashtype (16,7)
set style line 52 linecolor rgb blue linewidth 3 dashtype 1
set style line 54 linecolor rgb blue linewidth 2 dashtype (4,6)
set style line 53 linecolor rgb black linewidth 1.5 pointtype 7 pointsize 1.6*mark

# Names of the taps are above the frame, over where they run. A duct no tap can serve has no point.
points = n_points == 0 ? '' : \
    ", points_csv using (x(0)):(y(0)):x2tic(tap_name(0)) with points linestyle 53 title 'runs here'"
beyond = n_beyond == 0 ? '' : \
    ", keyentry with lines linestyle 54 title 'past its table'"
plot for [i = 1:n_taps] blower_csv using (curve(-i, x(0))):(y(0)) with lines linestyle 54 notitle, \
    for [i = 1:n_taps] blower_csv using (curve(i, x(0))):(y(0)) with lines linestyle 52 notitle, \
    keyentry with lines linestyle 52 title 'blower, each tap', \
    blower_csv using (curve(0, x(0))):(y(0)) with lines linestyle 51 title 'duct system' \
    @beyond @points
