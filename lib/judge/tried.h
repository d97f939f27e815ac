/* Tried: balances made at several humidities of the house, and what they say of those beside them.
 * SI. Pure. Internal. */
#ifndef CT_JUDGE_TRIED_H
#define CT_JUDGE_TRIED_H

#include "judge/near.h"
#include "part/room.h"

#define CT_TRIED_APART                                                                             \
    1e-7 /* kg/kg, nearer balances say nothing of a slope; ct_room_equipment takes none */

typedef struct {
    double p; /* Pa */
    ct_room_equipment equipment;
    ct_balance at[CT_ROOM_POINTS]; /* of equipment.point */
    ct_bend bend;                  /* of the neighbor the search began at */
} ct_tried;

/* Keeps points in order of W; of a full list the one furthest from the new one goes. */
void ct_tried_insert(ct_tried *, const ct_room_point *, const ct_balance *);

/* The balance nearest to W, and the nearest but one, for the line through both; `first` again when
 * there is only one. */
int ct_tried_nearest(const ct_tried *, double W);
int ct_tried_second(const ct_tried *, double W, int first);

/* How far W is from balance i on the way to k, as a share; 0 when they are the same. */
double ct_tried_along(const ct_tried *, double W, int i, int k);

/* Where a balance at W begins: on the line through the nearest two, or as a neighbor's bend has it;
 * and from a neighbor's balance. */
ct_start ct_tried_start(const ct_tried *, double W);
ct_start ct_tried_start_from(const ct_near *, double W);

/* The bend between two balances, and all a neighbor may begin with for a house settled at W. */
ct_bend ct_tried_bend(const ct_tried *, int i, int k);
ct_near ct_tried_seen(const ct_tried *, double W);

/* A second point from balance i alone, and a neighbor's bend if there is one. */
ct_room_point ct_tried_guess(const ct_tried *, int i);

typedef struct {
    ct_room_equipment equipment;
    double low, high; /* kg/kg, an answer in there needs no other balance to decide it */
    int pair;         /* the first of the two balances next to W */
} ct_tried_nearby;

/* The equipment near W, where the house is expected: the line through the two balances next to W.
 * When they are close together it decides, as far beyond them as they are apart. `guess`: the
 * nearest balance and a neighbor's bend instead, where no other is close; that decides nothing. */
int ct_tried_pair(const ct_tried *, double W);
void ct_tried_near(const ct_tried *, double W, bool guess, ct_tried_nearby *);

#endif
