/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The large figure and its labels, under a display of its own, driven by xdotool as by a hand. */
#include <adwaita.h>
#include <gdk/x11/gdkx.h>
#include <math.h>
#include <string.h>

#include "../draw/draw-rig.h"
#include "ws-figure-evidence.h"
#include "ws-figure-label.h"
#include "ws-figure-part.h"
#include "ws-figure-view.h"

typedef struct
{
  GtkWidget *window;
  WsFigureView *view;
  WsFigure *figure;
  WsKnowledge *knowledge;
  WsFind *find;
  GString *log;
} Stage;

static gboolean
stop (gpointer data)
{
  *(gboolean *) data = TRUE;
  return G_SOURCE_REMOVE;
}

static void
wait (int ms)
{
  gboolean done = FALSE;

  g_timeout_add (ms, stop, &done);
  while (!done)
    g_main_context_iteration (NULL, TRUE);
}

static gboolean
count_frame (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  int *left = data;

  return --*left > 0;
}

/* Until three frames were laid out and drawn. */
static void
settle (Stage *stage)
{
  int left = 3;

  gtk_widget_add_tick_callback (stage->window, count_frame, &left, NULL);
  while (left > 0)
    g_main_context_iteration (NULL, TRUE);
}

/* xdotool with these words, then time for the events to arrive. */
static void
hand (const char *words)
{
  g_autofree char *line = g_strconcat ("xdotool ", words, NULL);
  g_autoptr (GError) error = NULL;
  int status;

  g_spawn_command_line_sync (line, NULL, NULL, &status, &error);
  g_assert_no_error (error);
  g_assert_cmpint (status, ==, 0);
  wait (120);
}

static void
view_cb (WsFigureView *view, const char *id, Stage *stage)
{
  g_string_append_printf (stage->log, "view %s;", id);
}

static void
part_cb (WsFigureView *view, const char *id, Stage *stage)
{
  g_string_append_printf (stage->log, "part %s;", id);
}

static void
judge (Stage *stage, const char *language)
{
  g_autoptr (WsEvidence) evidence = ws_evidence_judge (stage->find, stage->knowledge, language);

  ws_figure_view_set_evidence (stage->view, evidence, stage->knowledge, language);
}

static Stage *
stage_new (const char *form, const char *language, int width, int height)
{
  Stage *stage = g_new0 (Stage, 1);
  GtkWidget *scroller = gtk_scrolled_window_new ();

  stage->knowledge = rig_load_knowledge ();
  stage->find = rig_new_find (g_str_equal (form, "unknown") ? "" : form);
  ws_set_string (&stage->find->id, form);
  stage->figure = rig_load_figure (form);
  stage->log = g_string_new (NULL);
  stage->view = WS_FIGURE_VIEW (ws_figure_view_new ());
  g_signal_connect (stage->view, "view-activated", G_CALLBACK (view_cb), stage);
  g_signal_connect (stage->view, "part-activated", G_CALLBACK (part_cb), stage);
  ws_figure_view_set_figure (stage->view, stage->figure);
  judge (stage, language);
  stage->window = gtk_window_new ();
  gtk_window_set_decorated (GTK_WINDOW (stage->window), FALSE);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), GTK_WIDGET (stage->view));
  gtk_window_set_child (GTK_WINDOW (stage->window), scroller);
  gtk_window_set_default_size (GTK_WINDOW (stage->window), width, height);
  gtk_window_present (GTK_WINDOW (stage->window));
  settle (stage);
  return stage;
}

/* Before the first use of the hand: there is no window manager that would do it. */
static void
focus_window (Stage *stage)
{
  GdkSurface *surface = gtk_native_get_surface (GTK_NATIVE (stage->window));
  g_autofree char *words = g_strdup_printf ("windowmove --sync %lu 0 0 windowfocus --sync %lu mousemove 1390 990",
                                            GDK_SURFACE_XID (surface), GDK_SURFACE_XID (surface));

  hand (words);
}

static void
stage_free (Stage *stage)
{
  gpointer view = stage->view;

  g_object_add_weak_pointer (G_OBJECT (stage->view), &view);
  gtk_window_destroy (GTK_WINDOW (stage->window));
  wait (30);
  g_assert_null (view);
  ws_figure_unref (stage->figure);
  ws_find_unref (stage->find);
  ws_knowledge_unref (stage->knowledge);
  g_string_free (stage->log, TRUE);
  g_free (stage);
}

/* Labels in the order in which a screen reader meets them. (transfer container) */
static GPtrArray *
get_labels (Stage *stage)
{
  GPtrArray *labels = g_ptr_array_new ();

  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (stage->view)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (WS_IS_FIGURE_LABEL (child))
      g_ptr_array_add (labels, child);
  return labels;
}

static GtkWidget *
get_label (Stage *stage, const char *view)
{
  g_autoptr (GPtrArray) labels = get_labels (stage);

  for (guint i = 0; i < labels->len; i++)
    if (g_str_equal (ws_figure_label_get_view (g_ptr_array_index (labels, i)), view))
      return g_ptr_array_index (labels, i);
  return NULL;
}

static GtkWidget *
get_part (Stage *stage, const char *part)
{
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (stage->view)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (WS_IS_FIGURE_PART (child) && g_str_equal (ws_figure_part_get_part (WS_FIGURE_PART (child)), part))
      return child;
  return NULL;
}

static graphene_rect_t
bounds_in (GtkWidget *widget, Stage *stage)
{
  graphene_rect_t bounds;

  g_assert_true (gtk_widget_compute_bounds (widget, GTK_WIDGET (stage->view), &bounds));
  return bounds;
}

/* Where a point of the figure is in the view, by the place of its parts. */
static graphene_point_t
point_of (Stage *stage, double x, double y)
{
  const char *const *parts = ws_figure_get_parts (stage->figure);
  double px, py, pw, ph;
  graphene_rect_t r;

  g_assert_true (ws_figure_get_bounds (stage->figure, "substrate", &px, &py, &pw, &ph));
  r = bounds_in (get_part (stage, "substrate"), stage);
  g_assert_nonnull (parts[0]);
  return GRAPHENE_POINT_INIT (r.origin.x + (x - px) * r.size.width / pw, r.origin.y + (y - py) * r.size.height / ph);
}

static void
test_words (void)
{
  static const struct { const char *view, *spoken; } cases[] = {
    { "v_base", "Stem base: missing · required" },
    { "v_top", "Cap or body from above: shown · required" },
    { "v_print", "Spore print: missing · recommended" },
    { "v_latex", "Milk on a fresh cut: missing · only if there is one" },
    { "v_scale", "Scale in the picture: missing · required · ruler left at home" },
  };
  Stage *stage = stage_new ("gilled_stem", "en", 760, 900);
  GtkWidget *label;

  g_test_summary ("Each line of the evidence list is a button whose name says part, state and need");
  rig_add_mark (stage->find, "cap", "v_top");
  g_ptr_array_add (stage->find->excuses, ws_excuse_new ());
  ws_set_string (&((WsExcuse *) g_ptr_array_index (stage->find->excuses, 0))->view, "v_scale");
  ws_set_string (&((WsExcuse *) g_ptr_array_index (stage->find->excuses, 0))->reason, "ruler left at home");
  judge (stage, "en");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      label = get_label (stage, cases[i].view);
      g_assert_nonnull (label);
      gtk_test_accessible_assert_role (label, GTK_ACCESSIBLE_ROLE_BUTTON);
      gtk_test_accessible_assert_property (label, GTK_ACCESSIBLE_PROPERTY_LABEL, cases[i].spoken);
    }
  rig_add_mark (stage->find, "gills", "v_under");
  ((WsMark *) g_ptr_array_index (stage->find->marks, 1))->measure.blur_sigma = 40;
  judge (stage, "en");
  g_assert_true (gtk_widget_has_css_class (get_label (stage, "v_under"), "weak"));
  g_assert_false (gtk_widget_has_css_class (get_label (stage, "v_under"), "missing"));
  label = get_part (stage, "stem_base");
  gtk_test_accessible_assert_role (label, GTK_ACCESSIBLE_ROLE_BUTTON);
  gtk_test_accessible_assert_property (label, GTK_ACCESSIBLE_PROPERTY_LABEL, "Stem base: missing");
  gtk_test_accessible_assert_property (get_part (stage, "gills"), GTK_ACCESSIBLE_PROPERTY_LABEL, "Gills: weak");
  ws_figure_view_set_technical (stage->view, TRUE);
  gtk_test_accessible_assert_property (get_label (stage, "v_ring"), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Ring, both sides (annulus): missing · only if there is one");
  gtk_test_accessible_assert_property (get_label (stage, "v_habitat"), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Surroundings and trees: missing · required");
  stage_free (stage);
}

/* 1 if (x, y) and the places one unit around it are in some part, 0 if none of them is, -1 near an edge. */
static int
hits_any (const WsFigure *figure, double x, double y)
{
  const char *const *parts = ws_figure_get_parts (figure);
  int n = 0;

  for (int i = 0; i < 9; i++)
    {
      gboolean hit = FALSE;

      for (guint k = 0; parts[k] != NULL && !hit; k++)
        hit = ws_figure_hits (figure, parts[k], x + i % 3 - 1, y + i / 3 - 1);
      n += hit;
    }
  return n == 9 ? 1 : n == 0 ? 0 : -1;
}

static void
test_parts_have_their_shape (void)
{
  static const char *const forms[] = { "gilled_stem", "puffball", "bracket", "unknown" };

  g_test_summary ("A part is hit where it is drawn and not covered, and not in the corners of its box");
  for (guint i = 0; i < G_N_ELEMENTS (forms); i++)
    {
      Stage *stage = stage_new (forms[i], "en", 900, 900);
      const char *const *parts = ws_figure_get_parts (stage->figure);
      double width, height;
      int n = 0;

      for (guint k = 0; parts[k] != NULL; k++)
        {
          GtkWidget *part = get_part (stage, parts[k]);
          graphene_point_t at;
          double x, y;

          g_assert_nonnull (part);
          ws_figure_get_anchor (stage->figure, parts[k], &x, &y);
          at = point_of (stage, x, y);
          g_test_message ("%s %s", forms[i], parts[k]);
          g_assert_true (gtk_widget_pick (GTK_WIDGET (stage->view), at.x, at.y, GTK_PICK_DEFAULT) == part);
        }
      ws_figure_get_size (stage->figure, &width, &height);
      for (double y = 3; y < height; y += 9)
        for (double x = 3; x < width; x += 9)
          {
            graphene_point_t at = point_of (stage, x, y);
            GtkWidget *hit = gtk_widget_pick (GTK_WIDGET (stage->view), at.x, at.y, GTK_PICK_DEFAULT);
            int expected = hits_any (stage->figure, x, y);

            n += WS_IS_FIGURE_PART (hit);
            if (expected >= 0)
              g_assert_cmpint (WS_IS_FIGURE_PART (hit), ==, expected);
          }
      g_assert_cmpint (n, >, 60);
      stage_free (stage);
    }
}

static void
assert_no_overlap (Stage *stage, int width)
{
  g_autoptr (GPtrArray) labels = get_labels (stage);

  for (guint i = 0; i < labels->len; i++)
    {
      graphene_rect_t a = bounds_in (g_ptr_array_index (labels, i), stage);
      int least;

      g_assert_cmpfloat (a.origin.x, >=, -0.5);
      g_assert_cmpfloat (a.origin.x + a.size.width, <=, width + 0.5);
      gtk_widget_measure (g_ptr_array_index (labels, i), GTK_ORIENTATION_VERTICAL, (int) a.size.width, &least, NULL, NULL, NULL);
      g_assert_cmpfloat (a.size.height, >=, least - 0.5);   /* no words are cut off */
      for (guint k = 0; k < i; k++)
        {
          graphene_rect_t b = bounds_in (g_ptr_array_index (labels, k), stage);

          g_assert_false (graphene_rect_intersection (&a, &b, &(graphene_rect_t) { 0 }));
        }
    }
}

static void
test_sizes (void)
{
  static const int widths[] = { 300, 360, 539, 540, 600, 760, 1200 };
  static const char *const languages[] = { "en", "de" };
  static const char *const forms[] = { "gilled_stem", "crust", "egg", "unknown" };

  g_test_summary ("From 300 to 1,200 px wide, in both languages, nothing overlaps, sticks out or is cut off");
  for (guint f = 0; f < G_N_ELEMENTS (forms); f++)
    for (guint l = 0; l < G_N_ELEMENTS (languages); l++)
      for (guint i = 0; i < G_N_ELEMENTS (widths); i++)
        {
          Stage *stage = stage_new (forms[f], languages[l], widths[i], 700);

          rig_add_mark (stage->find, "stem_base", "v_base");
          ws_figure_view_set_technical (stage->view, i % 2 == 1);
          judge (stage, languages[l]);
          settle (stage);
          g_test_message ("%s %s %d: %d x %d", forms[f], languages[l], widths[i], gtk_widget_get_width (GTK_WIDGET (stage->view)),
                          gtk_widget_get_height (GTK_WIDGET (stage->view)));
          g_assert_cmpint (gtk_widget_get_width (GTK_WIDGET (stage->view)), ==, widths[i]);
          assert_no_overlap (stage, widths[i]);
          stage_free (stage);
        }
}

static void
test_narrow_order (void)
{
  Stage *stage = stage_new ("gilled_stem", "en", 360, 900);
  g_autoptr (GPtrArray) labels = NULL;
  graphene_rect_t figure = bounds_in (get_part (stage, "slip"), stage), before = figure;
  g_autoptr (GString) order = g_string_new (NULL);

  g_test_summary ("In a narrow place labels stand below the figure: the base, what is required and missing, then the rest, what is shown last");
  rig_add_mark (stage->find, "cap", "v_top");
  rig_add_mark (stage->find, "spore_print", "v_print");
  judge (stage, "en");
  settle (stage);
  labels = get_labels (stage);
  for (guint i = 0; i < labels->len; i++)
    {
      graphene_rect_t r = bounds_in (g_ptr_array_index (labels, i), stage);

      g_assert_cmpfloat (r.origin.y, >=, before.origin.y + before.size.height);
      before = r;
      g_string_append_printf (order, "%s ", ws_figure_label_get_view (g_ptr_array_index (labels, i)));
    }
  g_assert_cmpstr (order->str, ==, "v_base v_under v_stem v_section v_attach v_insitu v_substrate v_habitat v_scale "
                   "v_margin v_change v_ages v_slip v_ring v_latex v_top v_print ");
  stage_free (stage);
}

static void
test_base_stands_out (void)
{
  Stage *stage = stage_new ("gilled_stem", "en", 760, 900);
  g_autoptr (GPtrArray) labels = get_labels (stage);
  int base_height = 0, other = 0;

  g_test_summary ("The name of the base is set larger than any other name");
  for (guint i = 0; i < labels->len; i++)
    {
      GtkWidget *name = gtk_widget_get_first_child (gtk_button_get_child (g_ptr_array_index (labels, i)));
      PangoLayout *layout = gtk_label_get_layout (GTK_LABEL (name));
      PangoLayoutLine *line = pango_layout_get_line_readonly (layout, 0);
      PangoRectangle r;

      pango_layout_line_get_pixel_extents (line, NULL, &r);
      if (g_str_equal (ws_figure_label_get_view (g_ptr_array_index (labels, i)), "v_base"))
        base_height = r.height;
      else
        other = MAX (other, r.height);
    }
  g_assert_cmpint (base_height, >, other);
  stage_free (stage);
}

static void
test_keyboard (void)
{
  Stage *stage = stage_new ("gilled_stem", "en", 760, 900);
  g_autoptr (GPtrArray) labels = get_labels (stage);
  graphene_rect_t before, after;
  GtkWidget *focus;

  g_test_summary ("Tab goes through all labels as they are read and on through the parts of the drawing, arrows to the next label, Return and Space choose");
  focus_window (stage);
  gtk_window_set_focus (GTK_WINDOW (stage->window), NULL);
  for (guint i = 0; i < labels->len; i++)
    {
      hand ("key Tab");
      g_assert_true (gtk_window_get_focus (GTK_WINDOW (stage->window)) == g_ptr_array_index (labels, i));
      if (i > 0)   /* down the left column, then down the right one */
        {
          before = bounds_in (g_ptr_array_index (labels, i - 1), stage);
          after = bounds_in (g_ptr_array_index (labels, i), stage);
          g_assert_true (after.origin.y > before.origin.y || after.origin.x > before.origin.x);
        }
    }
  hand ("key Tab");
  focus = gtk_window_get_focus (GTK_WINDOW (stage->window));
  g_assert_true (WS_IS_FIGURE_PART (focus));
  hand ("key Tab");
  g_assert_true (WS_IS_FIGURE_PART (gtk_window_get_focus (GTK_WINDOW (stage->window))));
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (stage->window)) != focus);
  hand ("key shift+Tab");
  hand ("key shift+Tab");
  hand ("key shift+Tab");
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (stage->window)) == g_ptr_array_index (labels, labels->len - 2));
  g_assert_cmpstr (stage->log->str, ==, "");

  gtk_widget_grab_focus (get_label (stage, "v_base"));
  hand ("key Return");
  g_assert_cmpstr (stage->log->str, ==, "view v_base;");
  hand ("key space");
  g_assert_cmpstr (stage->log->str, ==, "view v_base;view v_base;");

  before = bounds_in (get_label (stage, "v_base"), stage);
  hand ("key Down");
  focus = gtk_window_get_focus (GTK_WINDOW (stage->window));
  after = bounds_in (focus, stage);
  g_assert_true (WS_IS_FIGURE_LABEL (focus));
  g_assert_cmpfloat (after.origin.y, >=, before.origin.y + before.size.height);
  g_assert_cmpfloat (fabs (after.origin.x - before.origin.x), <, 1);
  hand ("key Up");
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (stage->window)) == get_label (stage, "v_base"));
  hand (before.origin.x < 200 ? "key Right" : "key Left");
  after = bounds_in (gtk_window_get_focus (GTK_WINDOW (stage->window)), stage);
  g_assert_cmpfloat (fabs (after.origin.x - before.origin.x), >, 300);
  stage_free (stage);
}

static void
click (Stage *stage, graphene_point_t at)
{
  g_autofree char *words = NULL;
  graphene_point_t there;

  g_assert_true (gtk_widget_compute_point (GTK_WIDGET (stage->view), stage->window, &at, &there));
  words = g_strdup_printf ("mousemove --sync %d %d click 1", (int) there.x, (int) there.y);
  hand (words);
}

static void
test_pointer (void)
{
  Stage *stage = stage_new ("gilled_stem", "en", 760, 900);
  graphene_rect_t r = bounds_in (get_label (stage, "v_top"), stage);
  double x, y;

  g_test_summary ("A click chooses the part or the label under it, and nothing beside them");
  focus_window (stage);
  ws_figure_get_anchor (stage->figure, "stem_base", &x, &y);
  click (stage, point_of (stage, x, y));
  g_assert_cmpstr (stage->log->str, ==, "part stem_base;");
  g_string_truncate (stage->log, 0);
  ws_figure_get_anchor (stage->figure, "cap", &x, &y);
  click (stage, point_of (stage, x, y));
  g_assert_cmpstr (stage->log->str, ==, "part cap;");
  g_string_truncate (stage->log, 0);
  click (stage, GRAPHENE_POINT_INIT (r.origin.x + 20, r.origin.y + 14));
  g_assert_cmpstr (stage->log->str, ==, "view v_top;");
  g_string_truncate (stage->log, 0);
  /* In the box of the cap, above its slope. */
  ws_figure_get_bounds (stage->figure, "cap", &x, &y, &(double) { 0 }, &(double) { 0 });
  click (stage, point_of (stage, x + 4, y + 4));
  g_assert_cmpstr (stage->log->str, ==, "");
  stage_free (stage);
}

static GdkPaintable *
new_picture (void)
{
  static const guint8 grey[3] = { 90, 90, 90 };
  g_autoptr (GBytes) bytes = g_bytes_new_static (grey, 3);

  return GDK_PAINTABLE (gdk_memory_texture_new (1, 1, GDK_MEMORY_R8G8B8, bytes, 3));
}

static int
count_crops (GtkWidget *label)
{
  GtkWidget *crops = gtk_widget_get_last_child (gtk_button_get_child (GTK_BUTTON (label)));
  int n = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (crops); child != NULL; child = gtk_widget_get_next_sibling (child))
    n += GTK_IS_PICTURE (child) != 0;
  return gtk_widget_get_visible (crops) ? n : 0;
}

static void
test_kept (void)
{
  Stage *stage = stage_new ("gilled_stem", "en", 760, 900);
  GdkPaintable *pictures[5];
  GtkWidget *label = get_label (stage, "v_base");

  g_test_summary ("A change of the find keeps label, focus, arming and pictures; another find drops the pictures; three are shown at most");
  for (guint i = 0; i < G_N_ELEMENTS (pictures); i++)
    pictures[i] = new_picture ();
  ws_figure_view_set_crops (stage->view, "v_base", pictures, G_N_ELEMENTS (pictures));
  ws_figure_view_set_crops (stage->view, "no_such_view", pictures, 1);
  ws_figure_view_set_armed (stage->view, "v_base");
  gtk_widget_grab_focus (label);
  g_assert_cmpint (count_crops (label), ==, WS_FIGURE_LABEL_MAX_CROPS);
  rig_add_mark (stage->find, "cap", "v_top");
  judge (stage, "en");
  settle (stage);
  g_assert_true (get_label (stage, "v_base") == label);
  g_assert_true (gtk_widget_has_focus (label));
  g_assert_true (gtk_widget_has_css_class (label, "armed"));
  g_assert_cmpint (count_crops (label), ==, WS_FIGURE_LABEL_MAX_CROPS);
  ws_figure_view_set_armed (stage->view, NULL);
  g_assert_false (gtk_widget_has_css_class (label, "armed"));

  ws_find_unref (stage->find);
  stage->find = rig_new_find ("puffball");
  ws_set_string (&stage->find->id, "another");
  judge (stage, "en");
  settle (stage);
  g_assert_cmpint (count_crops (get_label (stage, "v_base")), ==, 0);
  g_assert_null (get_label (stage, "v_attach"));   /* not asked of a puffball */
  ws_figure_view_set_figure (stage->view, NULL);
  settle (stage);
  assert_no_overlap (stage, 760);
  ws_figure_view_set_evidence (stage->view, NULL, NULL, NULL);
  settle (stage);
  g_assert_null (get_label (stage, "v_base"));
  for (guint i = 0; i < G_N_ELEMENTS (pictures); i++)
    g_object_unref (pictures[i]);
  stage_free (stage);
}

static void
test_caption (void)
{
  Stage *stage = stage_new ("egg", "en", 360, 800);

  g_test_summary ("What ink means stands under the figure, also while there is nothing to show");
  for (int pass = 0; pass < 2; pass++)
    {
      gboolean found = FALSE;

      for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (stage->view)); child != NULL;
           child = gtk_widget_get_next_sibling (child))
        found = found || (GTK_IS_LABEL (child) && gtk_widget_get_mapped (child) &&
                          g_str_equal (gtk_label_get_label (GTK_LABEL (child)), "Ink shows what was photographed, not what it is."));
      g_assert_true (found);
      ws_figure_view_set_figure (stage->view, NULL);
      ws_figure_view_set_evidence (stage->view, NULL, NULL, NULL);
      settle (stage);
    }
  stage_free (stage);
}

/* Mean brightness 0-1 of the view as drawn, and the brightest and darkest pixel. */
static void
look_at (Stage *stage, double *mean, double *darkest, double *brightest)
{
  g_autoptr (GdkPaintable) paintable = gtk_widget_paintable_new (GTK_WIDGET (stage->view));
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  g_autoptr (GskRenderNode) node = NULL;
  g_autoptr (GdkTexture) texture = NULL;
  g_autofree guint8 *pixels = NULL;
  int w, h, n = 0;
  double sum = 0;

  gdk_paintable_snapshot (paintable, snapshot, gtk_widget_get_width (GTK_WIDGET (stage->view)),
                          gtk_widget_get_height (GTK_WIDGET (stage->view)));
  node = gtk_snapshot_free_to_node (snapshot);
  texture = gsk_renderer_render_texture (gtk_native_get_renderer (GTK_NATIVE (stage->window)), node, NULL);
  w = gdk_texture_get_width (texture);
  h = gdk_texture_get_height (texture);
  pixels = g_malloc ((gsize) w * h * 4);
  gdk_texture_download (texture, pixels, (gsize) w * 4);
  *darkest = 1;
  *brightest = 0;
  for (int i = 0; i < w * h; i++)
    if (pixels[4 * i + 3] == 255)
      {
        double light = pixels[4 * i + 1] / 255.0;

        sum += light;
        n++;
        *darkest = MIN (*darkest, light);
        *brightest = MAX (*brightest, light);
      }
  g_assert_cmpint (n, >, 0);
  *mean = sum / n;
}

static void
test_dark (void)
{
  double mean, darkest, brightest;
  Stage *stage;

  g_test_summary ("In the dark style light ink stands on dark paper");
  for (int dark = 0; dark < 2; dark++)
    {
      adw_style_manager_set_color_scheme (adw_style_manager_get_default (),
                                          dark ? ADW_COLOR_SCHEME_FORCE_DARK : ADW_COLOR_SCHEME_FORCE_LIGHT);
      stage = stage_new ("gilled_stem", "en", 760, 900);
      rig_add_mark (stage->find, "cap", "v_top");
      judge (stage, "en");
      settle (stage);
      look_at (stage, &mean, &darkest, &brightest);
      g_test_message ("%s: mean %.2f, from %.2f to %.2f", dark ? "dark" : "light", mean, darkest, brightest);
      g_assert_cmpfloat (brightest - darkest, >, 0.6);
      if (dark)
        g_assert_cmpfloat (mean, <, 0.4);
      else
        g_assert_cmpfloat (mean, >, 0.6);
      stage_free (stage);
    }
  adw_style_manager_set_color_scheme (adw_style_manager_get_default (), ADW_COLOR_SCHEME_DEFAULT);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  adw_init ();
  g_test_add_func ("/app/figure-view/words", test_words);
  g_test_add_func ("/app/figure-view/parts-have-their-shape", test_parts_have_their_shape);
  g_test_add_func ("/app/figure-view/sizes", test_sizes);
  g_test_add_func ("/app/figure-view/narrow-order", test_narrow_order);
  g_test_add_func ("/app/figure-view/base-stands-out", test_base_stands_out);
  g_test_add_func ("/app/figure-view/keyboard", test_keyboard);
  g_test_add_func ("/app/figure-view/pointer", test_pointer);
  g_test_add_func ("/app/figure-view/kept", test_kept);
  g_test_add_func ("/app/figure-view/caption", test_caption);
  g_test_add_func ("/app/figure-view/dark", test_dark);
  return g_test_run ();
}
