
# Curves crossing: what the outdoor unit takes at each suction, and what the coil gives at it for
# several airflows. The system runs where the two cross.
set label 100 'Where coil and outdoor unit balance' at screen 0.03,0.975 left font heading_font
set xlabel label_flow
set ylabel label_heat
crossing_csv = here.'crossing.csv'
points_csv = here.'crossing_points.csv'

takes = 'unit_takes_'.heat_key
gives = 'coil_gives_'.heat_key
suction = 'sat_suction_'.temperature_key
settled = 'coil_total_'.heat_key
per_ton = 'per_ton_airflow_'.per_ton_key
t(v) = temperature(column(suction)) + 0 * v
h(name) = heat(column(name)) * 1.0
of(i, v) = column('curve') == i ? v : NaN
stats crossing_csv using (t(0)) name 'T' nooutput
stats crossing_csv using (h(takes)) name 'U' nooutput
stats crossing_csv using (h(gives)) name 'C' nooutput
span = T_max - T_min
set xrange [T_min - 0.16 * span:T_max + 0.02 * span]
low = U_min < C_min ? U_min : C_min
high = U_max > C_max ? U_max : C_max
set yrange [low - 0.05 * (high - low):high + 0.12 * (high - low)]

# Each coil curve is named by its airflow where it begins; they do not cross.
set key at screen 0.5,0.045
set style line 11 linecolor rgb blue linewidth 2.5 dashtype (14,7)
set style line 16 linecolor rgb red linewidth 4 dashtype 1
set style line 17 linecolor rgb black linewidth 1.5 pointtype 7 pointsize 1.6*mark

set label 110 'Coil gives, '.unit_per_ton.':' at graph 0.02,0.965 left textcolor rgb blue
on_first(i) = column('curve') == i && temperature(column(suction)) < T_min + 1e-6
curve_name(row) = sprintf('%.0f', flow(column(per_ton)))

plot crossing_csv using (of(1, t(0))):(h(takes)) with lines linestyle 16 \
        title 'outdoor unit takes', \
    for [i = 1:n_curves] crossing_csv using (of(i, t(0))):(h(gives)) with lines \
        linestyle 11 notitle, \
    for [i = 1:n_curves] crossing_csv using (on_first(i) ? t(0) : NaN):(h(gives)):(curve_name(0)) \
        with labels right offset -0.6,0 textcolor rgb blue notitle, \
    points_csv using (t(0)):(h(settled)) with points linestyle 17 title 'settles here', \
    keyentry with lines linestyle 11 title 'coil gives'
