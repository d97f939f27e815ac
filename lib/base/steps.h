/* Steps: even steps from a lower to a higher value, both ends included. Public. */
#ifndef CT_BASE_STEPS_H
#define CT_BASE_STEPS_H

typedef struct {
    double low, high; /* in the unit of what is stepped */
    int n;            /* values, 1 or more; one value is `low` */
} ct_steps;

static inline double ct_steps_at(const ct_steps *s, int i)
{
    return s->n > 1 ? s->low + (s->high - s->low) * i / (s->n - 1) : s->low;
}

#endif
