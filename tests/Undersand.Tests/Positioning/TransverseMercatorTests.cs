using CsCheck;
using Undersand.Positioning;

namespace Undersand.Tests.Positioning;

/// <summary>
/// On the Earth the last terms of the series are nanometres: a slip in them would pass every table. On an ellipsoid six times flatter (f = 1/50)
/// n⁶ is 7 µm of the radius and n⁷ a hundred times less, so each coefficient shows.
/// </summary>
public sealed class TransverseMercatorTests
{
    private const double A = 6378137, F = 1 / 50.0, E2 = F * (2 - F), N = F / (2 - F);
    private static readonly TransverseMercator Flat = new(new Ellipsoid("flat", 0, A, 50), new ProjectionParameters(0, 0, 1, 0, 0));

    // The series are Fourier series of rectifying less conformal latitude: their coefficients by quadrature, each but for its own n⁷.
    [Fact]
    public void Each_coefficient_of_both_series_is_right_to_the_sixth_power()
    {
        double[] alpha = TransverseMercator.Alpha(N), beta = TransverseMercator.Beta(N);
        double n7 = Math.Pow(N, 7);
        for (int j = 1; j <= 6; j++)
        {
            var (a, b) = Fourier(j);
            Assert.Equal(a, alpha[j - 1], 4 * n7);
            Assert.Equal(b, beta[j - 1], 0.5 * n7);
        }
    }

    [Theory]
    [InlineData(7)]
    [InlineData(38)]
    [InlineData(52)]
    [InlineData(81)]
    [InlineData(-45)]
    public void On_the_central_meridian_the_northing_is_the_length_of_the_arc(double latitude) =>
        Assert.Equal(Arc(latitude * Math.PI / 180), Flat.FromGeographic(0, latitude).Northing, 10 * Math.Pow(N, 7) * A);

    [Fact]
    public void There_and_back_on_a_much_flatter_ellipsoid() =>
        (from lon in Gen.Double[-8, 8] from lat in Gen.Double[-80, 80] select (lon, lat)).Sample(t =>
        {
            var (easting, northing, _, _) = Flat.FromGeographic(t.lon, t.lat);
            var back = Flat.ToGeographic(easting, northing);
            double off = 20 * Math.Pow(N, 7) * 180 / Math.PI;
            Assert.Equal(t.lat, back.Latitude, off);
            Assert.Equal(t.lon, back.Longitude, off / Math.Cos(t.lat * Math.PI / 180));
        });

    // A conformal map's scale is the same in every direction, and its convergence is the direction of the meridian: both by small differences.
    [Fact]
    public void Scale_and_convergence_are_those_of_the_map_itself() =>
        (from lon in Gen.Double[-8, 8] from lat in Gen.Double[-75, 75] select (lon, lat)).Sample(t =>
        {
            const double Small = 1e-4;
            var here = Flat.FromGeographic(t.lon, t.lat);
            var north = Flat.FromGeographic(t.lon, t.lat + Small);
            var south = Flat.FromGeographic(t.lon, t.lat - Small);
            double de = north.Easting - south.Easting, dn = north.Northing - south.Northing;
            double arc = 2 * Small * Math.PI / 180 * A * (1 - E2) / Math.Pow(1 - E2 * Math.Pow(Math.Sin(t.lat * Math.PI / 180), 2), 1.5);
            Assert.Equal(here.Scale, Math.Sqrt(de * de + dn * dn) / arc, 1e-8);
            Assert.Equal(-here.Convergence, Math.Atan2(de, dn), 1e-8);
        });

    // On the Earth's own ellipsoid too, the origin of latitude is where northings start.
    [Fact]
    public void Northings_start_at_the_latitude_of_origin()
    {
        var irish = new TransverseMercator(Ellipsoid.Grs80, new ProjectionParameters(53.5, -8, 0.99982, 600000, 750000));
        var (easting, northing, convergence, scale) = irish.FromGeographic(-8, 53.5);
        Assert.Equal((600000, 750000, 0, 0.99982), (Math.Round(easting, 8), Math.Round(northing, 8), Math.Round(convergence, 12), Math.Round(scale, 12)));
    }

    // αⱼ and βⱼ: 4/π times the integral of (μ − χ) sin 2jχ dχ, and of (μ − χ) sin 2jμ dμ, from equator to pole; by the trapezoidal rule, which is exact for these.
    private static (double Alpha, double Beta) Fourier(int j)
    {
        const int Parts = 400;
        double quarter = Arc(Math.PI / 2), alpha = 0, beta = 0, step = Math.PI / 2 / Parts, arc = 0;
        for (int i = 1; i < Parts; i++)
        {
            double phi = i * step, sin = Math.Sin(phi), e = Math.Sqrt(E2);
            arc += GeodesicReference.Integrate(Curvature, phi - step, phi);
            double mu = Math.PI / 2 * arc / quarter;
            double chi = Math.Atan(Math.Sinh(Math.Atanh(sin) - e * Math.Atanh(e * sin)));
            double perMu = Math.PI / 2 * Curvature(phi) / quarter, perChi = (1 - E2) / (1 - E2 * sin * sin) * Math.Cos(chi) / Math.Cos(phi);
            alpha += 4 / Math.PI * step * perChi * (mu - chi) * Math.Sin(2 * j * chi);
            beta += 4 / Math.PI * step * perMu * (mu - chi) * Math.Sin(2 * j * mu);
        }

        return (alpha, beta);
    }

    private static double Arc(double latitude) => GeodesicReference.Integrate(Curvature, 0, latitude);

    // Radius of curvature of the meridian.
    private static double Curvature(double latitude) => A * (1 - E2) / Math.Pow(1 - E2 * Math.Pow(Math.Sin(latitude), 2), 1.5);
}
