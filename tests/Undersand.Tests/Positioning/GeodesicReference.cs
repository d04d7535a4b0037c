namespace Undersand.Tests.Positioning;

/// <summary>The shortest way between two places on WGS 84, slow and without series: the reference that projections are held against.</summary>
/// <remarks>
/// Karney (2013), “Algorithms for geodesics”, J. Geodesy 87, 43–55: equations 5, 8, 10–12 with the integrals of 7 and 8 by Gauss–Legendre quadrature,
/// the first azimuth by bisection of the longitude difference. Serves nearly antipodal places too.
/// </remarks>
internal static class GeodesicReference
{
    private const double A = 6378137, F = 1 / 298.257223563, B = A * (1 - F), SecondEccentricitySquared = F * (2 - F) / ((1 - F) * (1 - F));

    // Gauss–Legendre, ten points: Abramowitz & Stegun (1964), table 25.4.
    private static readonly (double X, double W)[] Gauss =
    [
        (0.148874338981631, 0.295524224714753), (0.433395394129247, 0.269266719309996), (0.679409568299024, 0.219086362515982),
        (0.865063366688985, 0.149451349150581), (0.973906528517172, 0.066671344308688),
    ];

    /// <summary>Distance in metres, azimuths at both ends in degrees clockwise from north.</summary>
    public static (double Distance, double Azimuth1, double Azimuth2) Inverse(double lat1, double lon1, double lat2, double lon2)
    {
        double lon12 = Math.IEEERemainder(lon2 - lon1, 360), lonSign = lon12 < 0 ? -1 : 1, swap = 1;
        if (Math.Abs(lat1) < Math.Abs(lat2))
        {
            swap = -1;
            lonSign = -lonSign;
            (lat1, lat2) = (lat2, lat1);
        }

        double latSign = lat1 < 0 ? 1 : -1;
        double beta1 = Reduced(lat1 * latSign), beta2 = Reduced(lat2 * latSign), lambda = Math.Abs(lon12) * Math.PI / 180;
        double alpha1 = beta1 == 0 && lambda <= (1 - F) * Math.PI ? Math.PI / 2 : Shoot(beta1, beta2, lambda);
        var (distance, alpha2, _) = beta1 == 0 && alpha1 == Math.PI / 2 ? (A * lambda, alpha1, lambda) : Go(beta1, beta2, alpha1);
        if (swap < 0)
            (alpha1, alpha2) = (alpha2, alpha1);
        return (distance, Turn(alpha1), Turn(alpha2));

        double Turn(double alpha) => Math.Atan2(swap * lonSign * Math.Sin(alpha), swap * latSign * Math.Cos(alpha)) * 180 / Math.PI;
    }

    private static double Shoot(double beta1, double beta2, double lambda)
    {
        double low = 0, high = Math.PI;
        for (int i = 0; i < 100; i++)
        {
            double middle = 0.5 * (low + high);
            if (Go(beta1, beta2, middle).Lambda < lambda)
                low = middle;
            else
                high = middle;
        }

        return 0.5 * (low + high);
    }

    // From the southern place at reduced latitude β1 on azimuth α1, northwards through the latitude β2.
    private static (double Distance, double Alpha2, double Lambda) Go(double beta1, double beta2, double alpha1)
    {
        double sinAlpha0 = Math.Sin(alpha1) * Math.Cos(beta1), cosAlpha0Squared = 1 - sinAlpha0 * sinAlpha0;
        double north2 = Square(Math.Cos(alpha1) * Math.Cos(beta1)) + (Math.Cos(beta2) - Math.Cos(beta1)) * (Math.Cos(beta2) + Math.Cos(beta1));
        double alpha2 = Math.Atan2(sinAlpha0, Math.Sqrt(Math.Max(north2, 0)));
        double sigma1 = Math.Atan2(Math.Sin(beta1), Math.Cos(alpha1) * Math.Cos(beta1)), sigma2 = Math.Atan2(Math.Sin(beta2), Math.Cos(alpha2) * Math.Cos(beta2));
        double omega1 = Math.Atan2(sinAlpha0 * Math.Sin(sigma1), Math.Cos(sigma1)), omega2 = Math.Atan2(sinAlpha0 * Math.Sin(sigma2), Math.Cos(sigma2));
        double k2 = SecondEccentricitySquared * cosAlpha0Squared;
        double lag = F * sinAlpha0 * Integrate(s => (2 - F) / (1 + (1 - F) * Math.Sqrt(1 + k2 * Square(Math.Sin(s)))), sigma1, sigma2);
        return (B * Integrate(s => Math.Sqrt(1 + k2 * Square(Math.Sin(s))), sigma1, sigma2), alpha2, omega2 - omega1 - lag);
    }

    public static double Integrate(Func<double, double> f, double from, double to)
    {
        const int Parts = 4;
        double sum = 0, half = (to - from) / (2 * Parts);
        for (int i = 0; i < Parts; i++)
        {
            double middle = from + (2 * i + 1) * half;
            foreach (var (x, w) in Gauss)
                sum += w * half * (f(middle - half * x) + f(middle + half * x));
        }

        return sum;
    }

    private static double Reduced(double latitude) => Math.Atan((1 - F) * Math.Tan(latitude * Math.PI / 180));

    private static double Square(double x) => x * x;
}
