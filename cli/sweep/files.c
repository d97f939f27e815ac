#include "sweep/files.h"

#include <stdlib.h>
#include <string.h>

#include "base/complain.h"
#include "base/out_folder.h"
#include "base/text_stream.h"
#include "fluid/air.h"
#include "show/plot_script.h"
#include "sweep/heating_files.h"

static bool remove_pictures(const char *dir)
{
    for (int i = 0; plot_template_name(i); i++)
        if (!out_remove_pictures(dir, plot_template_name(i))) return false;
    return true;
}

static bool write_csv(const sweep_files *files, const char *name, const sweep_view *view,
                      const ct_point *points, int n)
{
    write_file file;
    return out_open(&file, files->dir, name, "csv") &&
           write_file_end(&file, sweep_columns_csv(file.stream, view, points, n, files->si));
}

static bool write_uncertain_csv(const sweep_files *files, const char *name,
                                const ct_uncertain_point *points, int n)
{
    write_file file;
    return out_open(&file, files->dir, name, "csv") &&
           write_file_end(&file,
                          uncertain_csv(file.stream, files->uncertain, points, n, files->si));
}

/* What was not asked for is removed: it would belong to an earlier run. */
static bool write_uncertain(const sweep_files *files)
{
    const ct_uncertain *u = files->uncertain ? files->uncertain->u : NULL;
    return (u ? write_uncertain_csv(files, "sweep_uncertain", u->point, u->n)
              : out_remove(files->dir, "sweep_uncertain", "csv")) &&
           (u && u->n_taps > 0 ? write_uncertain_csv(files, "taps_uncertain", u->tap, u->n_taps)
                               : out_remove(files->dir, "taps_uncertain", "csv"));
}

static bool write_or_remove(const sweep_files *files, const char *name, const sweep_view *view,
                            const ct_point *points, int n)
{
    return n > 0 ? write_csv(files, name, view, points, n) : out_remove(files->dir, name, "csv");
}

static bool write_low(const sweep_files *files)
{
    const sweep_view *low = files->low;
    const ct_sweep *s = low ? low->sweep : NULL;
    return write_or_remove(files, "low_sweep", low, s ? s->point : NULL, s ? s->n : 0) &&
           write_or_remove(files, "low_taps", low, s ? s->tap : NULL, s ? s->n_taps : 0);
}

/* gnuplot cuts a quoted text at its comma and loses count at a quote within. */
static void make_plain(char *name)
{
    for (; *name; name++)
        if (*name == '"')
            *name = '\'';
        else if (*name == ',')
            *name = ';';
}

/* The taps' table as text, their names plain; free it. NULL: out of memory, which is reported. */
static char *taps_text(const sweep_view *view, bool si)
{
    char *text = NULL;
    size_t size;
    FILE *stream = text_stream(&text, &size);
    ct_indoor_unit unit = *view->job->unit;
    ct_sweep_job job = *view->job;
    const sweep_view plain = {&job, view->sweep, view->pick};
    job.unit = &unit;
    for (int i = 0; i < unit.blower.n_taps; i++)
        make_plain(unit.blower.tap[i].name);
    if (!stream) return NULL;
    sweep_columns_csv(stream, &plain, view->sweep->tap, view->sweep->n_taps, si);
    if (fclose(stream) == 0) return text;
    complain_incomplete();
    free(text);
    return NULL;
}

/* The column compared with the load, when it is not net_sensible itself. */
static const char *carried(const sweep_view *view)
{
    const ct_sweep *s = view->sweep;
    bool settled = view->job->c->house.judge_load_at == CT_LOAD_SETTLED;
    for (int i = 0; i < s->n && settled; i++)
        settled = s->point[i].has_design || s->point[i].status != CT_OK;
    return settled ? "design_sensible" : view->job->has_outside ? "delivered_sensible" : NULL;
}

static bool has_mild(const ct_sweep *s)
{
    for (int i = 0; i < s->n; i++)
        if (s->point[i].has_mild) return true;
    return false;
}

static plot_facts facts_of(const sweep_files *files, const sweep_view *view, const char *taps)
{
    const ct_case *c = view->job->c;
    return (plot_facts){.taps = taps,
                        .carried = carried(view),
                        .rh_entered = ct_air_rh(&view->job->indoor),
                        .has_mild = has_mild(view->sweep),
                        .two_stages = c->outdoor.low.has,
                        .title = files->title,
                        .si = files->si,
                        .has_taps = view->sweep->n_taps > 0,
                        .has_load = c->house.Q_sensible > 0,
                        .Q_sensible = c->house.Q_sensible * (1 + c->house.margin),
                        .has_ceiling = c->house.rh_ceiling.has,
                        .fan_on = c->house.fan_on,
                        .rh_ceiling = c->house.rh_ceiling.v,
                        .load_sigma = c->uncertainty.load,
                        .T_frost = CT_FROST_LINE + c->limits.frost_guard};
}

/* A curve needs two points; with none gnuplot would stop at an empty range. */
static bool has_curve(const ct_sweep *s, const char *name)
{
    const bool humidity = strcmp(name, "humidity") == 0;
    int there = 0;
    for (int i = 0; i < s->n; i++)
        there += humidity ? s->point[i].has_room : s->point[i].status == CT_OK;
    return there > 1;
}

static bool write_script(const sweep_files *files, const char *name, const plot_facts *facts)
{
    write_file file;
    return out_open(&file, files->dir, name, "gp") &&
           write_file_end(&file, plot_script_write(file.stream, name, facts));
}

static exit_code draw(const sweep_files *files, const sweep_view *view)
{
    char *taps = view->sweep->n_taps > 0 ? taps_text(view, files->si) : NULL;
    const plot_facts facts = facts_of(files, view, taps);
    out_scripts scripts = {.n = 0};
    exit_code code = EXIT_DONE;
    const char *name;
    for (int i = 0; (name = plot_template_name(i)); i++) {
        if (!files->uncertain && strcmp(name, "capacity_band") == 0) {
            if (!out_remove(files->dir, name, "gp")) code = EXIT_SYSTEM;
            continue;
        }
        if (has_curve(view->sweep, name)) {
            if (write_script(files, name, &facts))
                out_scripts_add(&scripts, name);
            else
                code = EXIT_SYSTEM;
            continue;
        }
        complain("%s: no %s plot: fewer than two airflows have a value", files->dir, name);
        if (!out_remove(files->dir, name, "gp")) code = EXIT_SYSTEM;
    }
    free(taps);
    const heating_files heating = {files->dir, files->title, files->si};
    if (!heating_files_write(&heating, view->job, &scripts)) code = EXIT_SYSTEM;
    const exit_code drawn = out_draw_all(files->dir, &scripts, files->format, files->render);
    return code == EXIT_DONE ? drawn : code;
}

exit_code sweep_files_write(const sweep_files *files, const sweep_view *view)
{
    const ct_sweep *s = view->sweep;
    if (!out_folder(files->dir) || !remove_pictures(files->dir)) return EXIT_SYSTEM;
    if (!write_csv(files, "sweep", view, s->point, s->n)) return EXIT_SYSTEM;
    return write_or_remove(files, "taps", view, s->tap, s->n_taps) && write_low(files) &&
                   write_uncertain(files)
               ? draw(files, view)
               : EXIT_SYSTEM;
}
