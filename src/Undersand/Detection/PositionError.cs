namespace Undersand.Detection;

/// <summary>The one-sigma ellipse of a horizontal position.</summary>
/// <param name="Major">Half the long axis, metres.</param>
/// <param name="Minor">Half the short axis, metres.</param>
/// <param name="Azimuth">Of the long axis, clockwise from north.</param>
internal readonly record struct PositionError(double Major, double Minor, Angle Azimuth)
{
    /// <summary>Root mean square of the axes.</summary>
    public double Rms => Math.Sqrt(0.5 * (Major * Major + Minor * Minor));

    /// <summary>From the lines that support a target: each knows its along and across as well as blur and strength allow; navigation is common to all.</summary>
    public static PositionError Of(IReadOnlyList<LineSupport> lines, DetectionSettings settings, double spacing, double? arc = null)
    {
        double ee = 0, nn = 0, en = 0;
        foreach (var line in lines)
        {
            double azimuth = line.View?.TrackAzimuth.Radians ?? 0, sharpen = Math.Sqrt(2 * Math.Max(line.Ratio, 1));
            double along = line.Blur.Along / 2.355 / sharpen, across = line.Blur.Across / 2.355 / (line.KnowsAcross ? sharpen : 1);
            // Anywhere on an arc of that length is as good.
            if (arc is { } length && lines.Count == 1)
                across = Math.Max(across, length / Math.Sqrt(12));
            double wa = 1 / (along * along), wc = 1 / (across * across), s = Math.Sin(azimuth), c = Math.Cos(azimuth);
            ee += wa * s * s + wc * c * c;
            nn += wa * c * c + wc * s * s;
            en += (wa - wc) * s * c;
        }
        double determinant = ee * nn - en * en;
        if (!(determinant > 0))
            return new(settings.NavigationSd, settings.NavigationSd, new Angle(0));
        double common = settings.NavigationSd * settings.NavigationSd + 0.01 * spacing * spacing;
        double vee = nn / determinant + common, vnn = ee / determinant + common, ven = -en / determinant;
        double mean = 0.5 * (vee + vnn), spread = Math.Sqrt(0.25 * (vee - vnn) * (vee - vnn) + ven * ven);
        double axis = spread < 1e-12 ? 0 : 0.5 * Math.Atan2(2 * ven, vnn - vee);
        return new(Math.Sqrt(mean + spread), Math.Sqrt(Math.Max(mean - spread, 0)), new Angle(axis < 0 ? axis + Math.PI : axis));
    }
}
