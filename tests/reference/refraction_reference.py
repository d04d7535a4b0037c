"""Makes tests/data/refraction_reference.csv: hard cases of refraction, by bisection on Snell's law with 60 digits (mpmath).

Run: python3 tests/reference/refraction_reference.py > tests/data/refraction_reference.csv
"""
from mpmath import mp, mpf, sqrt, nstr

mp.dps = 60


def leg(h, z, x, c1, c2):
    """Time and crossing offset: the root of the slope of the time, which rises with u."""
    low, high = mpf(0), x
    for _ in range(260):
        u = (low + high) / 2
        slope = u / (c1 * sqrt(h * h + u * u)) - (x - u) / (c2 * sqrt(z * z + (x - u) ** 2))
        if slope < 0:
            low = u
        else:
            high = u
    u = (low + high) / 2
    return sqrt(h * h + u * u) / c1 + sqrt(z * z + (x - u) ** 2) / c2, u


print("height_m,burial_m,offset_m,c1_m_s,c2_m_s,time_s,crossing_m")
for h in ("0.01", "0.9", "35"):
    for z in ("1e-9", "1e-5", "0.003", "0.4", "12"):
        for x in ("1e-7", "0.3", "2.1", "60"):
            for c1, c2 in (("1500", "1650"), ("1510", "1440"), ("1480", "5250"), ("1500", "1500.0000001")):
                # Through float, so that both sides start from the same doubles.
                t, u = leg(*(mpf(float(v)) for v in (h, z, x, c1, c2)))
                print(f"{h},{z},{x},{c1},{c2},{nstr(t, 20)},{nstr(u, 20)}")
