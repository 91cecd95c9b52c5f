# Draws scale.png from the numbers of `go run ./testdata/bench/scale`: run gnuplot
# at the module's root. Straight lines have the slopes that are promised at most.
set terminal pngcairo size 1500,520 font "DejaVu Sans,11"
set output "testdata/bench/scale.png"
set multiplot layout 1,3
set logscale xy
set grid
set key top left
set rmargin 4
set format x "%g"
set xlabel "tolerance, mm (the cell goes with its square root)"
set ylabel "processor s, or peak GB"
set title "reference tray"
cell(x) = 0.33 * (0.1 / x)
plot "testdata/bench/scale-tolerance.txt" using 1:2 with linespoints pt 7 lc rgb "#0060a8" title "time", \
     "" using 1:($3/1024) with linespoints pt 5 lc rgb "#c05000" title "memory", \
     cell(x) lc rgb "#808080" dt 2 title "area over cell squared"
unset logscale
set xrange [0:13]
set yrange [0:*]
set xlabel "items"
set title "whole kit of equal blocks, draft"
plot "testdata/bench/scale-items.txt" using 1:2 with linespoints pt 7 lc rgb "#0060a8" title "time, s", \
     "" using 1:($3/100) with linespoints pt 5 lc rgb "#c05000" title "memory, 100 MB"
unset xrange
unset yrange
set logscale xy
set xrange [500:2000000]
set xlabel "triangles of the product"
set title "one product: its buck at draft, and check"
set yrange [0.1:200]
plot "testdata/bench/scale-product.txt" using 1:2 with linespoints pt 7 lc rgb "#0060a8" title "time, buck", \
     "testdata/bench/scale-check.txt" using 1:2 with linespoints pt 6 lc rgb "#0060a8" title "time, check", \
     "testdata/bench/scale-product.txt" using 1:($3/1024) with linespoints pt 5 lc rgb "#c05000" title "memory, buck", \
     "testdata/bench/scale-check.txt" using 1:($3/1024) with linespoints pt 4 lc rgb "#c05000" title "memory, check", \
     x * 1e-4 lc rgb "#808080" dt 2 title "linear"
