"""Makes tests/data/teos10_reference.csv with the standard's own library (package gsw, e.g. python3-gsw).

Run: python3 tests/reference/teos10_reference.py > tests/data/teos10_reference.csv
"""
import gsw

print("t90_C,S_pss,p_dbar,SR_g_kg,pt0_C,CT_C,density_kg_m3,sound_speed_m_s")
for t in (-1.5, 0, 4, 10, 17.3, 25, 31):
    for s in (0, 0.5, 7, 20, 30, 35, 40):
        for p in (0, 7.5, 60, 400, 3000):
            sr = gsw.SR_from_SP(s)
            pt = gsw.pt0_from_t(sr, t, p)
            ct = gsw.CT_from_t(sr, t, p)
            print(f"{t},{s},{p},{sr:.9f},{pt:.9f},{ct:.9f},{gsw.rho(sr, ct, p):.7f},{gsw.sound_speed(sr, ct, p):.8f}")
