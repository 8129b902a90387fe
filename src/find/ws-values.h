/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a field record is made of. Each value is reference-counted and boxed. Whoever makes
 * one fills its fields before sharing it; from then on nobody writes to it: a change is a
 * new value (ws_X_copy(), then fill). Strings are never NULL unless marked (nullable). */
#pragma once

#include "ws-answer.h"
#include "ws-moment.h"
#include "ws-name.h"
#include "ws-position.h"
#include "ws-shape.h"
#include "ws-sizes.h"
#include "ws-value.h"

/* --- Photo: one image file, known by content ------------------------------------ */

typedef enum
{
  WS_PHOTO_PLAIN,
  WS_PHOTO_COPY,        /* a shrunk copy of another photo of the library */
  WS_PHOTO_SCREENSHOT,  /* likely a screen picture: its time is not used */
} WsPhotoKind;

typedef struct
{
  gatomicrefcount refs;
  char *id;             /* UUID */
  char *path;           /* absolute; where it was last seen */
  gint64 file_size;     /* bytes */
  gint64 file_time_us;  /* modification time when last read */
  char *digest;         /* SHA-512 of the file, hexadecimal */
  char *companion;      /* (nullable): path of the raw file or clip that belongs to it */
  char *media_type;     /* "image/jpeg" */
  int width, height;    /* upright, px */
  int orientation;      /* EXIF 1-8, 0 unknown */
  WsMoment taken;
  WsPosition position;  /* of the camera */
  double direction;     /* degrees; NAN unknown */
  char *make, *model;   /* "" unknown */
  WsPhotoKind kind;
  char *copy_of;        /* (nullable): id of the larger photo, for WS_PHOTO_COPY */
  gboolean set_aside;   /* hidden, not deleted */
  char *warnings;       /* what its metadata do not say plainly, one a line */
} WsPhoto;

/* --- Clarity of a mark, as measured ----------------------------------------------- */

typedef struct
{
  gboolean measured;    /* FALSE: nothing was measured yet */
  int width_px, height_px;
  double blur_sigma;    /* px; NAN when the texture is too plain to tell */
  double burnt_out;     /* share 0-1 of pixels with a burnt-out channel */
  double blocked_up;    /* share 0-1 of pixels with all channels blocked up */
  double mm_per_pixel;  /* NAN when no scale is known */
  int method;           /* version of the measuring method */
} WsMeasure;

/* --- Mark: a region of a photo, for one find, that shows one part ----------------- */

typedef struct
{
  gatomicrefcount refs;
  char *id;
  char *photo_id;
  char *part;           /* id of data/knowledge/parts.tsv */
  char **views;         /* ids of views.tsv it serves; never empty */
  WsShape *shape;
  gboolean whole_photo; /* the photo as a whole; never shows a base */
  char *specimen;       /* "a", "b", …; "" when not said */
  char *base_kind;      /* id of base-kinds.tsv; "" when not a base or not answered */
  char *remark;         /* for the identifier */
  WsMeasure measure;
  gint64 created_us;    /* UTC, microseconds */
} WsMark;

/* --- Note: an observed character ---------------------------------------------------- */

/* When it was observed on the specimen. */
typedef enum
{
  WS_OBSERVED_UNKNOWN,
  WS_OBSERVED_FRESH,
  WS_OBSERVED_AFTER,    /* so many minutes after it was cut, rubbed or picked */
  WS_OBSERVED_DRIED,
} WsObserved;

/* Several notes of one character with different minutes are a timed series (a colour that changes); the photo
 * that shows it is that of the mark. */
typedef struct
{
  gatomicrefcount refs;
  char *id;
  char *character;      /* id of characters.tsv */
  char **states;        /* ids; of a free character (trees, weather) one free text */
  gboolean sure;
  gboolean off_photo;   /* read off a photo: then never sure */
  char *specimen;       /* "" when not said */
  char *observer;       /* "" when not said */
  char *mark_id;        /* (nullable): that it was read off, or that shows it */
  WsObserved observed;
  double minutes;       /* WS_OBSERVED_AFTER: 0 or more; else NAN */
  char *text;           /* more about it in words, for the identifier; "" nothing */
  char **answers;       /* ids of conditions.tsv that were answered "yes" with this note; others are unknown */
  gint64 created_us;
} WsNote;

/* --- A reason why a view cannot be had; the view stays missing -------------------- */

typedef struct
{
  gatomicrefcount refs;
  char *view;
  char *reason;         /* free text, for the identifier */
} WsExcuse;

/* --- A photo of a find --------------------------------------------------------------- */

typedef struct
{
  gatomicrefcount refs;
  WsPhoto *photo;
  int position;         /* order in the find */
  char *specimen;       /* "" when not said */
  char *visit;          /* "" first visit; "same" or "another" specimen on a later one */
} WsFindPhoto;

/* --- A covered region: painted over in every copy, crop and plate ------------------ */

typedef struct
{
  gatomicrefcount refs;
  char *id;
  char *photo_id;
  WsShape *shape;
} WsCover;

/* --- Foray: one outing --------------------------------------------------------------- */

typedef struct
{
  gatomicrefcount refs;
  char *id;
  char *date;           /* "2025-10-04"; "" unknown */
  char *place;          /* in words, for the identifier */
  char *people;
} WsForay;

/* --- Find ------------------------------------------------------------------------------ */

typedef enum
{
  WS_SPECIMEN_UNKNOWN,
  WS_SPECIMEN_KEPT,
  WS_SPECIMEN_AT_SPOT,
  WS_SPECIMEN_GONE,
} WsSpecimenIs;

typedef struct
{
  gatomicrefcount refs;
  char *id;
  char *number;         /* collecting number, an editable label */
  char *foray_id;       /* (nullable): unsorted */
  char *field_name;     /* the finder's own working name */
  WsMoment when;        /* of the first photo, or typed */
  WsPosition where;     /* of the fungus as well as known */
  char *locality;       /* place in words, for the identifier */
  char *remarks;        /* for the identifier */
  char *only_mine;      /* never leaves except in one's own backup */
  WsSpecimenIs specimen_is;
  gint64 created_us;
  GPtrArray *photos;    /* WsFindPhoto, in order */
  GPtrArray *marks;     /* WsMark, oldest first */
  GPtrArray *notes;     /* WsNote, oldest first */
  GPtrArray *excuses;   /* WsExcuse */
  GPtrArray *covers;    /* WsCover, of its photos */
  GPtrArray *scales;    /* WsScale, of its photos, oldest first */
  GPtrArray *measurements;  /* WsMeasurement, oldest first */
  GPtrArray *spores;    /* WsSporeList, oldest first */
  GPtrArray *names;     /* WsName, oldest first, withdrawn ones and withdrawals too */
  GPtrArray *answers;   /* WsAnswer about it, oldest first, replaced ones too */
  char *name_in_force;  /* (nullable): id of the name the finder has chosen */
} WsFind;

WS_DECLARE_VALUE (WsPhoto, ws_photo)
WS_DECLARE_VALUE (WsMark, ws_mark)
WS_DECLARE_VALUE (WsNote, ws_note)
WS_DECLARE_VALUE (WsExcuse, ws_excuse)
WS_DECLARE_VALUE (WsFindPhoto, ws_find_photo)
WS_DECLARE_VALUE (WsCover, ws_cover)
WS_DECLARE_VALUE (WsForay, ws_foray)
WS_DECLARE_VALUE (WsFind, ws_find)

#define WS_TYPE_PHOTO (ws_photo_get_type ())
#define WS_TYPE_MARK (ws_mark_get_type ())
#define WS_TYPE_NOTE (ws_note_get_type ())
#define WS_TYPE_FIND (ws_find_get_type ())
#define WS_TYPE_FORAY (ws_foray_get_type ())

/* Look-ups in a find; borrowed, NULL when absent. */
const WsPhoto *ws_find_get_photo (const WsFind *find, const char *photo_id);
const WsMark *ws_find_get_mark (const WsFind *find, const char *mark_id);
const char *ws_find_get_excuse (const WsFind *find, const char *view);
/* The last recorded state of a character of one state, "" when not recorded. */
const char *ws_find_get_state (const WsFind *find, const char *character);
/* The note of the character, specimen and observer taken at the same time (fresh, so many minutes, dried or not
 * said): what a new one replaces. */
const WsNote *ws_find_get_note_at (const WsFind *find, const char *character, const char *specimen,
                                   const char *observer, WsObserved observed, double minutes);
/* TRUE if any note of the character holds @state. */
gboolean ws_find_has_state (const WsFind *find, const char *character, const char *state);
/* The growth form noted last, "" when unknown. */
const char *ws_find_get_growth_form (const WsFind *find);

gboolean ws_mark_serves (const WsMark *mark, const char *view);
/* The letter by which a mark is called on photo, figure and page: A…Z, AA… by its place
 * among the marks of the find. (transfer full) */
char *ws_find_dup_mark_letter (const WsFind *find, const WsMark *mark) G_GNUC_WARN_UNUSED_RESULT;

/* "kept", "at_spot", "gone", "unknown". */
const char *ws_specimen_is_id (WsSpecimenIs is);
gboolean ws_specimen_is_parse (const char *text, WsSpecimenIs *is);
/* "unknown", "fresh", "after", "dried". */
const char *ws_observed_id (WsObserved observed);
gboolean ws_observed_parse (const char *text, WsObserved *observed);

/* --- Scales ---------------------------------------------------------------------------- */

/* The scale of a photo laid last, NULL when it has none. Borrowed. */
const WsScale *ws_find_get_scale (const WsFind *find, const char *photo_id);
/* Fills mm_per_pixel of every mark from the scale of its photo, NAN where there is none: for whoever makes a find
 * and has not shared it yet. */
void ws_find_fill_scales (WsFind *find);

/* --- Names ------------------------------------------------------------------------------ */

/* Borrowed, NULL when absent. */
const WsName *ws_find_get_name (const WsFind *find, const char *name_id);
gboolean ws_find_is_name_withdrawn (const WsFind *find, const char *name_id);
/* The name chosen by the finder; NULL when none is, or when it was withdrawn. */
const WsName *ws_find_get_name_in_force (const WsFind *find);
/* The name that warns of the deadly ones, the oldest; it stays when it is withdrawn, when another name is in force and
 * when a later answer says otherwise (safety law 3). NULL when nobody has warned. */
const WsName *ws_find_get_warning (const WsFind *find);
/* TRUE when a later answer of the same find replaces it. */
gboolean ws_find_is_answer_replaced (const WsFind *find, const char *answer_id);
/* What the answers that are not replaced ask for. @view or @character NULL: any. The first wish that names it and the
 * answer it stands in; NULL when nobody asks. Borrowed. */
const WsWish *ws_find_get_wish (const WsFind *find, const char *view, const char *character,
                                const WsAnswer **answer);
