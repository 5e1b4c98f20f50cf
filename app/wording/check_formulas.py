"""What each check compares, as a formula in the trade's own signs: one entry for each kind of check."""

from __future__ import annotations

from typing import Final

FORMULAS: Final[tuple[tuple[str, str], ...]] = (
    ("stress", "von Mises stress on and outside the judged circles <= yield / factor"),
    ("inside corner", "2.2 x stress beyond t/2 of a sharp corner <= yield / factor"),
    ("net section", "N/A + M/W across the section from hole to edge <= yield / factor"),
    ("bearing", "F <= k1 alpha_b f_u d t / gamma_M2; below 3 mm also 2.5 alpha_b k_t f_u d t / gamma_M2"),
    ("pull-through", "F_t <= 0.6 pi d_m t f_u / gamma_M2; below 3 mm 0.5 d_m t f_u / gamma_M2"),
    (
        "wall bending",
        "N + M/ro <= k f_y t^2 (2 b/B + 4 sqrt(1 - b/B)) / factor, of a round tube 5 k f_y t^2"
        " (1 + 0.25 b/B) / factor",
    ),
    (
        "slip",
        "gamma_M3 / (0.91 k_s) sqrt((V/V_f)^2 + (T/T_f)^2) <= 1, V_f = mu (F_low - 0.8 N), one face,"
        " k_s below 1 in holes wider than usual",
    ),
    ("opening", "(N + M/e) / F_low <= 1, e = (ro^2 + ri^2) / 4 ro"),
    ("bolt preload", "F_high and its share of the pull <= 0.2 % proof load"),
    ("thread stripping", "F_t <= min(A_n f_u,boss, A_s f_u,bolt) / (sqrt(3) gamma_M2)"),
    ("thread under preload", "F_high and its share of the pull <= min(A_n f_u,boss, A_s f_u,bolt) / sqrt(3)"),
    (
        "pressure under head",
        "F_high and its share of the pull <= p_G pi/4 (D^2 - d_h^2), D = d_w + 1.6 h of a washer at most,"
        " and of the sheet where that stands on a boss or pad",
    ),
    ("bolt shear", "F_v <= beta_p alpha_v f_ub A_s / gamma_M2, beta_p below 1 through a spacer"),
    ("bolt tension", "F_t <= 0.9 f_ub A_s / gamma_M2"),
    ("bolt shear and tension", "F_v/F_v,Rd + F_t/(1.4 F_t,Rd) <= 1"),
    (
        "weld",
        "sqrt(s_perp^2 + 3 (t_perp^2 + t_par^2)) <= f_u / (beta_w gamma_M2), s_perp <= 0.9 f_u/gamma_M2",
    ),
    ("section at weld", "N/A + M/W of the sheet at the weld's toe, with 3 tau^2 <= yield / factor"),
    ("softened beside welds", "von Mises stress within reach of the heat <= rho_haz x yield / factor"),
    ("turn", "turn of the casing under the couple as measured <= limit"),
    ("lean", "lean of the casing under the couple as measured <= limit"),
    ("movement with a pull", "largest movement of plates and casing block, pull included <= limit"),
    ("movement", "largest movement of plates and casing block under the couple as measured <= limit"),
    ("dash bar", "N/A + M/W, with 3 tau^2, in the bar's outermost fibre <= yield / factor"),
    ("dash bar at holes", "N/A + M/W, with 3 tau^2, of the section without a bolt's hole <= yield / factor"),
    ("softened dash bar", "N/A + M/W, with 3 tau^2, within reach of the heat <= rho_haz x yield / factor"),
    ("fatigue", "gamma_Mf x (tension + 0.6 compression of the swing) <= range borne at damage sum 1"),
    (
        "fatigue at the root",
        "gamma_Mf x whole swing of the force over the throat <= range borne at damage sum 1",
    ),
    ("fatigue at the toe", "gamma_Mf x whole swing of N/A + M/W in the sheet <= range borne at damage sum 1"),
    ("fatigue beside welds", "gamma_Mf x whole swing of stress <= range borne at damage sum 1"),
    (
        "fatigue of dash bar",
        "gamma_Mf x whole swing of N/A + M/W, with 3 tau^2 <= range borne at damage sum 1",
    ),
    ("fatigue in shear", "gamma_Mf x whole swing of shear along the throat <= range borne, slope 5"),
    ("fit-up gap", "gap at one open bolt, the others drawn up: (B^-1 f) along the bolt <= limit"),
    ("fit-up holes", "slide across the bolt until all faces meet <= clearance of the hole"),
    ("fit-up pull", "f = B d along the bolt, B = S - S W K^-1 W' S <= share x F_low"),
    ("fit-up face", "(N + M/e) / F_low <= 1 with what drawing together asks, e = (ro^2 + ri^2) / 4 ro"),
    ("fit-up bolt", "N + M/ro with what drawing together asks <= 0.9 f_ub A_s / gamma_M2"),
    ("fit-up stress", "von Mises stress that drawing together leaves, errors added up <= yield"),
    ("fit-up bearing", "stiffness x sideways shift of the shaft at the bearing <= limit"),
    ("buckling", "10 <= load factor t at which (K + t K_g) x = 0 (linear buckling, EN 1993-1-1 5.2.1)"),
    ("natural frequency", "1.3 x firing frequency at idle <= slowest swing"),
)
"""By how the check's name begins; the longest that fits counts."""


def formula_of(name: str) -> str:
    """Return what a check of that name compares; empty for one that is met or broken by its source alone."""
    fitting = [(len(begins), formula) for begins, formula in FORMULAS if name.startswith(begins)]
    return max(fitting, default=(0, ""))[1]
