/* Notes: where a figure leans on more than the data behind it.
 *
 * Equations and tables hold inside the data they were made from. A point worked out beyond them is
 * still an answer, but a softer one, and the reader must know. Each such place is one bit; the
 * words are the program's. Public. */
#ifndef CT_JUDGE_NOTES_H
#define CT_JUDGE_NOTES_H

#include "base/status.h"
#include "part/room.h"
#include "plant/balance.h"
#include "plant/plant.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Those that could hurt come first: notes are shown in this order. */
typedef enum {
    CT_NOTE_NEAR_FLOOD = 1 << 0,        /* a piston with little superheat left, or none */
    CT_NOTE_HOT_FLOOD = 1 << 1,         /* the same of a piston on a hotter day alone */
    CT_NOTE_STARVED = 1 << 2,           /* a piston leaves far more superheat than its target */
    CT_NOTE_FIN_RANGE = 1 << 3,         /* air side of a coil by geometry: finside.h */
    CT_NOTE_PISTON_BORE = 1 << 4,       /* piston beyond its flow equation's data: orifice.h */
    CT_NOTE_PISTON_LENGTH = 1 << 5,     /* the same of its length */
    CT_NOTE_PISTON_SUBCOOLING = 1 << 6, /* the same of the liquid's subcooling */
    CT_NOTE_PISTON_GAS = 1 << 7,        /* gas arrives at the piston with the liquid */
    CT_NOTE_BLOWER_TABLE = 1 << 8,      /* static below the first point of the tap's table */
    CT_NOTE_ROOM_RANGE = 1 << 9,        /* the house settles beyond the humidities tried */
    CT_NOTE_FAN_ON_RANGE = 1 << 10,     /* the same were the blower left on */
    CT_NOTE_ROOM_SHORT = 1 << 11,       /* the part load is not carried: the room gets warmer */
    CT_NOTE_LINE_GAS = 1 << 12,         /* the liquid line takes more than the subcooling covers */
    CT_NOTE_CHARGE_GAS = 1 << 13        /* a piston's charge leaves no subcooling here */
} ct_note;
enum { CT_NOTE_COUNT = 14 };

/* A speed at which the metering device needs a second look: too little superheat, now or on a
 * hotter day, or too much. */
#define CT_NOTE_LITTLE_SUPERHEAT ((unsigned)CT_NOTE_NEAR_FLOOD | (unsigned)CT_NOTE_HOT_FLOOD)
#define CT_NOTE_METERING (CT_NOTE_LITTLE_SUPERHEAT | (unsigned)CT_NOTE_STARVED)

/* ct_note bits of a balance of this system; 0 for an ordinary one. */
CT_API unsigned ct_notes_of_balance(const ct_system *, const ct_balance *);

/* Those of where the house settles, with the blower as the case has it and left on; NULL: not
 * known.
 */
CT_API unsigned ct_notes_of_room(const ct_room_out *, const ct_room_out *fan_on);

#ifdef __cplusplus
}
#endif
#endif
