# Laboratory runs of NISTIR 7350: predicted against measured, read from the README's own table.
# Run by the pictures-refresh target: gnuplot -e "readme='README.md'; picture='laboratory.svg'" this
set terminal svg size 780,560 font 'sans,13' background rgb 'white'
set output picture
rows(column) = sprintf("< awk -F'|' '/^\\| (2|4|5|6|7|9|11 dry|13 dry|17 dry) \\|.*,/ { split($%d, v, \",\"); print $2 ~ /dry/, v[1], v[2] }' %s", column, readme)
set multiplot layout 2,2
set key top left
set grid
set style line 1 lc rgb '#000000' pt 7
set style line 2 lc rgb '#000000' pt 6
set xlabel 'measured'
set ylabel 'predicted'
# title, scale, allowed either way as a share or in F, by column of the table
do for [k=1:4] {
  file = rows(4 + k)
  set xrange [*:*]
  set yrange [*:*]
  stats file using 2 nooutput
  low = STATS_min; high = STATS_max
  if (k == 1) { set title 'Net total, 1000 Btu/h, lines 3 % off'; s = 1000.0; f = 0.03; d = 0 }
  if (k == 2) { set title 'Sensible, 1000 Btu/h, lines 4 % off'; s = 1000.0; f = 0.04; d = 0 }
  if (k == 3) { set title 'Total power, kW, lines 2.5 % off'; s = 1000.0; f = 0.025; d = 0 }
  if (k == 4) { set title 'Saturated suction, F, lines 1 F off'; s = 1.0; f = 0; d = 1 }
  low = low/s*0.97; high = high/s*1.03
  set xrange [low:high]
  set yrange [low:high]
  plot x notitle lc rgb '#000000', x*(1+f) + d notitle dt 2 lc rgb '#808080', \
    x*(1-f) - d notitle dt 2 lc rgb '#808080', \
    file using ($1 == 0 ? $2/s : NaN):($3/s) with points ls 1 title 'wet coil', \
    file using ($1 == 1 ? $2/s : NaN):($3/s) with points ls 2 title 'dry coil'
}
unset multiplot
