# Common to all plots: the picture's format, its type and sizes, and where its files are.
# Made to be read on a phone: 780 x 1000 pixels with large type. Line dashes and markers differ as
# well as colours, so that black-and-white prints and colour-blind readers lose nothing; the colours
# are Okabe and Ito's (2008).
if (!exists('format')) format = 'png'
here = ''
if (exists('ARG0')) { do for [i = 1:strlen(ARG0)] { if (ARG0[i:i] eq '/') { here = ARG0[1:i] } } }
sweep_csv = here.'sweep.csv'
taps_csv = here.'taps.csv'

set encoding utf8
if (format eq 'svg') {
    set terminal svg noenhanced size 780,1000 font 'DejaVu Sans,Verdana,sans-serif,23' \
        linewidth 1.5 dashlength 0.55 background 'white'
    heading_font = ',29'
    mark = 0.45
} else { if (format eq 'pdf') {
    set terminal pdfcairo noenhanced size 5.85in,7.5in font 'DejaVu Sans,9.8' fontscale 1 \
        linewidth 1.7 dashlength 0.9
    heading_font = ',12.8'
    mark = 0.55
} else {
    set terminal pngcairo noenhanced size 780,1000 font 'DejaVu Sans,17.5' linewidth 1.5 \
        dashlength 1.1
    heading_font = ',23'
    mark = 1.0
} }
set output here.plot_name.'.'.format

blue = '#0072B2'
red = '#D55E00'
green = '#009E73'
black = '#000000'
grey = '#707070'
set style line 1 linecolor rgb blue linewidth 3 dashtype 1 pointtype 7 pointsize 1.3*mark
set style line 2 linecolor rgb red linewidth 3 dashtype (14,7) pointtype 5 pointsize 1.2*mark
set style line 3 linecolor rgb green linewidth 3 dashtype (14,6,3,6) pointtype 9 pointsize 1.6*mark
set style line 4 linecolor rgb black linewidth 2.5 dashtype (3,5)
set style line 5 linecolor rgb black linewidth 1.5 pointtype 6 pointsize 2.3*mark
set style line 6 linecolor rgb black linewidth 2.5 pointtype 13 pointsize 3*mark
set style line 9 linecolor rgb '#C8C8C8' linewidth 0.7 dashtype 1

set datafile separator comma columnheaders
set border 3 linecolor rgb grey
set tics nomirror textcolor rgb black
set grid xtics ytics linestyle 9
set lmargin at screen 0.15
set rmargin at screen 0.955
set tmargin at screen (has_taps ? 0.775 : 0.89)
set bmargin at screen 0.165
set key at screen 0.52,0.045 center center vertical reverse Left samplen 2 width 0 maxrows 2
set xlabel label_flow offset 0,(format eq 'svg' ? 0.7 : 0.2)
set ylabel offset 0.4,0

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

set label 101 job_title at screen 0.03,0.935 left textcolor rgb '#404040'

x_of(v) = flow(column(col_flow)) + 0 * v
stats sweep_csv using (flow(column(col_flow))):(column(col_total)) name 'X' nooutput
x_pad = 0.02 * (X_max_x - X_min_x) + 1e-6
set xrange [X_min_x - x_pad:X_max_x + x_pad]
set x2range [X_min_x - x_pad:X_max_x + x_pad]
x_last = X_max_x
x_first = X_min_x
on_last(v) = flow(column(col_flow)) == x_last ? v : NaN
on_first(v) = flow(column(col_flow)) == x_first ? v : NaN
