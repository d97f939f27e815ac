
# Psychrometric chart: the path of the air through the coil. Lines of the chart are computed by the program
# at the pressure of the site. The moisture axis is on the right, as on printed charts.
set label 100 'The path of the air through the coil' at screen 0.03,0.975 left font heading_font
set xlabel label_flow
lines_csv = here.'psychro_lines.csv'
process_csv = here.'psychro_process.csv'

bulb = 'dry_bulb_'.temperature_key
water = 'moisture_'.moisture_key
x(v) = temperature(column(bulb)) + 0 * v
y(v) = moisture(column(water)) + 0 * v
line_is(k, v) = column('line') == k ? v : NaN
kind_is(name, v) = strcol('kind') eq name ? v : NaN
state_is(i, name, v) = column('series') == i && strcol('state') eq name ? v : NaN
way(i, v) = column('series') == i && strcol('state') ne 'apparatus' ? v : NaN

set xrange [x_low:x_high]
set yrange [y_low:y_high]
set y2range [y_low:y_high]
set border 9
unset ytics
unset ylabel
set y2tics nomirror textcolor rgb black
set y2label label_moisture offset (format eq 'svg' ? -1.6 : -0.6),0
set style textbox opaque noborder fillcolor rgb 'white' margins 0.3,0.3
set grid noxtics noytics
set lmargin at screen 0.045
set rmargin at screen 0.87
set bmargin at screen 0.22
set key at screen 0.5,0.065 maxrows 4

set style line 21 linecolor rgb black linewidth 3.5 dashtype 1
set style line 22 linecolor rgb '#808080' linewidth 1 dashtype 1
set style line 23 linecolor rgb '#808080' linewidth 1 dashtype (2,5)
set style line 31 linecolor rgb blue linewidth 3.5 dashtype 1 pointtype 7 pointsize 1.4*mark
set style line 32 linecolor rgb red linewidth 3.5 dashtype (14,7) pointtype 5 pointsize 1.3*mark
set style line 33 linecolor rgb green linewidth 3.5 dashtype (14,6,3,6) pointtype 9 pointsize 1.7*mark
set style line 41 linecolor rgb blue linewidth 1.5 dashtype (3,4) pointtype 6 pointsize 1.8*mark
set style line 42 linecolor rgb red linewidth 1.5 dashtype (3,4) pointtype 4 pointsize 1.7*mark
set style line 43 linecolor rgb green linewidth 1.5 dashtype (3,4) pointtype 8 pointsize 2.1*mark
set style line 51 linecolor rgb black linewidth 2.5 pointtype 1 pointsize 1.6*mark

# On from where the air leaves to the apparatus dew point.
do for [i = 1:n_series] {
    if (exists('onward_'.i)) { eval sprintf('set arrow %d %s nohead linestyle %d', 300 + i, value('onward_'.i), 40 + i) }
}

plot for [k = 1:n_lines - 1] lines_csv using (line_is(k, x(0))):(kind_is('relative humidity', y(0))) \
        axes x1y2 with lines linestyle 22 notitle, \
    for [k = 1:n_lines - 1] '' using (line_is(k, x(0))):(kind_is('wet bulb', y(0))) \
        axes x1y2 with lines linestyle 23 notitle, \
    '' using (x(0)):(kind_is('saturation', y(0))) axes x1y2 with lines linestyle 21 \
        title 'saturated', \
    for [i = 1:n_series] process_csv using (way(i, x(0))):(y(0)) axes x1y2 with lines \
        linestyle (30 + i) notitle, \
    for [i = 1:n_series] '' using (state_is(i, 'leaving', x(0))):(y(0)) axes x1y2 with points \
        linestyle (30 + i) notitle, \
    for [i = 1:n_series] '' using (state_is(i, 'apparatus', x(0))):(y(0)) axes x1y2 with points \
        linestyle (40 + i) notitle, \
    for [i = 1:n_series] '' using (state_is(i, past_blower, x(0))):(y(0)) axes x1y2 with points \
        linestyle 51 notitle, \
    '' using (state_is(1, 'return', x(0))):(y(0)):('return') axes x1y2 with labels left \
        point linestyle 6 offset 0.6,1.0 notitle, \
    for [i = 1:n_series] keyentry with linespoints linestyle (30 + i) title value('name_'.i), \
    keyentry with points linestyle 41 title 'apparatus dew point', \
    keyentry with points linestyle 51 title 'past the blower', \
    keyentry with lines linestyle 23 title 'wet bulb'
