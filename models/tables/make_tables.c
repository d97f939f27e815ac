/* Works out the tables the library looks its properties up in, and writes them as C. Run when the
 * project is built:
 *   make_tables OUTPUT.c
 * Numbers go through as hexadecimal, so that none is rounded. */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "fluid/air.h"
#include "fluid/refrigerant_tables.h"
#include "fluid/water_tables.h"

static void numbers(FILE *f, const double *x, size_t n)
{
    for (size_t i = 0; i < n; i++)
        fprintf(f, "%a,%c", x[i], i % 6 == 5 || i == n - 1 ? '\n' : ' ');
}

/* The struct is doubles from end to end, and its lists are written flat: braces inside may be left
 * out. */
static int refrigerants(FILE *f)
{
    static ct_refrigerant_tables t;
    const ct_catalog_row *row;
    ct_fault fault;

    fputs("const ct_refrigerant_tables ct_made_tables[] = {\n", f);
    for (int i = 0; (row = ct_catalog_at(i)); i++) {
        if (!row->model) continue;
        if (ct_refrigerant_tables_build(row, &t, &fault) != CT_OK) {
            fprintf(stderr, "make_tables: %s\n", fault.what);
            return 1;
        }
        fprintf(f, "/* %s */ {\n", row->name);
        numbers(f, (const double *)&t, sizeof t / sizeof(double));
        fputs("},\n", f);
    }
    fputs("};\n\n", f);
    return 0;
}

/* Bend of the formula, Pa/K2, from its slope: central differences of 1e-3 K are good to 1e-7 of it,
 * which is 1e-11 of the pressure half way along a piece. */
static double bend_at(double T)
{
    const double d = 1e-3;

    return (ct_air_psat_liquid_slope(T + d) - ct_air_psat_liquid_slope(T - d)) / (2.0 * d);
}

static void water_pieces(double piece[CT_WATER_PIECES][CT_WATER_TERMS])
{
    for (int i = 0; i < CT_WATER_PIECES; i++) {
        const double T = CT_WATER_FIRST + i, U = T + 1.0;
        const double a0 = ct_air_psat_liquid(T), a1 = ct_air_psat_liquid_slope(T);
        const double a2 = 0.5 * bend_at(T), bend = bend_at(U) - 2.0 * a2;
        const double rise = ct_air_psat_liquid(U) - a0 - a1 - a2;
        const double slope = ct_air_psat_liquid_slope(U) - a1 - 2.0 * a2;
        double *c = piece[i];
        c[0] = a0;
        c[1] = a1;
        c[2] = a2;
        c[3] = 10.0 * rise - 4.0 * slope + 0.5 * bend;
        c[4] = -15.0 * rise + 7.0 * slope - bend;
        c[5] = 6.0 * rise - 3.0 * slope + 0.5 * bend;
    }
}

static void water(FILE *f)
{
    static double piece[CT_WATER_PIECES][CT_WATER_TERMS];

    water_pieces(piece);
    fputs("const double ct_made_water[CT_WATER_PIECES][CT_WATER_TERMS] = {\n", f);
    numbers(f, &piece[0][0], CT_WATER_PIECES * CT_WATER_TERMS);
    fputs("};\n", f);
}

int main(int argc, char **argv)
{
    FILE *f = argc == 2 ? fopen(argv[1], "w") : NULL;
    int bad = 1;

    if (!f) {
        fprintf(stderr, "make_tables: needs one name, of a file it can write\n");
        return 1;
    }
    fputs("/* Made by models/tables/make_tables.c. */\n#include \"fluid/refrigerant_tables.h\"\n"
          "#include \"fluid/water_tables.h\"\n\n",
          f);
    bad = refrigerants(f);
    water(f);
    if (fclose(f) != 0 || bad) {
        if (!bad) fprintf(stderr, "make_tables: %s: %s\n", argv[1], strerror(errno));
        remove(argv[1]);
        return 1;
    }
    return 0;
}
