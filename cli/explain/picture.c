#include "explain/picture.h"

#include "show/plot_script.h"

void picture_headings(csv_writer *csv, const picture_column *columns, size_t n, bool si)
{
    for (size_t i = 0; i < n; i++)
        csv_heading(csv, columns[i].name, columns[i].q, si);
    csv_end_row(csv);
}

double picture_on_axis(quantity q, double v, bool si)
{
    return quantity_show(quantity_for_people(q, si), v);
}

/* gnuplot functions from a column's unit to the axis's, and the axes' labels. */
static void put_units(FILE *out, bool si)
{
    fputs(si ? "flow(v) = v * 1000.0\nheat(v) = v / 1000.0\ntemperature(v) = v - 273.15\n"
               "moisture(v) = v * 1000.0\nstatic(v) = v * 1.0\n"
             : "flow(v) = v * 1.0\nheat(v) = v / 1000.0\ntemperature(v) = v * 1.0\n"
               "moisture(v) = v * 7000.0\nstatic(v) = v * 1.0\n",
          out);
    fputs(si ? "heat_key = 'w'\ntemperature_key = 'k'\nper_ton_key = 'm3_per_s_per_ton'\n"
               "airflow_key = 'm3_per_s'\nmoisture_key = 'kg_per_kg'\nstatic_key = 'pa'\n"
             : "heat_key = 'btuh'\ntemperature_key = 'f'\nper_ton_key = 'cfm_per_ton'\n"
               "airflow_key = 'cfm'\nmoisture_key = 'lb_per_lb'\nstatic_key = 'inwc'\n",
          out);
    plot_script_text(out, "label_heat", si ? "Heat, kW" : "Heat, 1000 Btu/h");
    plot_script_text(out, "unit_per_ton", si ? "L/s per ton" : "cfm per ton");
    plot_script_text(out, "label_static", si ? "External static, Pa" : "External static, inwc");
    plot_script_text(out, "label_moisture",
                     si ? "Moisture, g per kg dry air" : "Moisture, grains per lb dry air");
    plot_script_text(out, "unit_temperature", plot_script_degree(si));
}

void picture_begin(FILE *out, const char *name, const char *reads, const char *title, bool si)
{
    plot_script_begin(out, name, reads, title);
    put_units(out, si);
}

exit_code picture_end(picture *s, const char *name, write_file *file)
{
    const bool good = plot_script_end(file->stream, name);
    if (!write_file_end(file, good) || !out_remove_pictures(s->to.dir, name)) return EXIT_SYSTEM;
    out_scripts_add(&s->scripts, name);
    return EXIT_DONE;
}
