/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of WsFigureView share. */
#pragma once

#include "ws-figure-evidence.h"
#include "ws-figure-label.h"
#include "ws-figure-part.h"
#include "ws-figure-view.h"
#include "ws-leader.h"

typedef struct
{
  WsFigureLabel *label;       /* a child */
  const WsEvidenceLine *line; /* of self->evidence */
  const char *part;           /* (nullable): of self->figure, at which its leader ends */
  WsLeader leader;
} FigureLine;

/* Where everything goes in a width and height. */
typedef struct
{
  gboolean narrow;
  WsFigurePlace place;        /* of the figure */
  graphene_rect_t figure;
  graphene_rect_t caption;
  double height;              /* needed in all */
} FigureLayout;

struct _WsFigureView
{
  GtkWidget parent_instance;

  GtkWidget *caption;
  GPtrArray *parts;           /* WsFigurePart, children, in drawing order */
  GArray *lines;              /* FigureLine, in reading order */

  WsFigure *figure;           /* (nullable) */
  WsEvidence *evidence;       /* (nullable) */
  WsKnowledge *knowledge;     /* (nullable) */
  char *language;
  gboolean technical;         /* terms beside the plain words */
  char *armed;                /* (nullable): view */
  GHashTable *crops;          /* view -> GPtrArray of GdkPaintable */
  FigureLayout layout;        /* as allocated */
};

#define ws_figure_view_line(self, i) (&g_array_index ((self)->lines, FigureLine, (i)))

/* Fills in the leaders of self->lines, sorts these as they are read, and returns the rest. */
FigureLayout ws_figure_view_lay_out (WsFigureView *self, int width);
void ws_figure_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                             int *minimum_baseline, int *natural_baseline);
void ws_figure_view_allocate (GtkWidget *widget, int width, int height, int baseline);
void ws_figure_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot);
/* Moves the focus: Tab through the labels and then the parts, arrows between the labels. */
gboolean ws_figure_view_focus (GtkWidget *widget, GtkDirectionType direction);
