namespace Undersand.Runs.Reporting;

/// <summary>The maps of a survey, for the report and for whoever else wants to show one.</summary>
public static class SurveyMaps
{
    /// <summary>Lines, targets with their uncertainty, and what was not surveyed, could not be seen, or was seen.</summary>
    public static Drawing Overview(SurveyResult result)
    {
        MapFrame frame = new(Extent.Of(result), result.Survey.Epsg, legend: 23);
        return Overview(result, frame);
    }

    /// <summary>Greatest probability in each column of the ground.</summary>
    public static Drawing Probability(SurveyResult result)
    {
        MapFrame frame = new(Extent.Of(result), result.Survey.Epsg, bar: true, tallest: 120);
        Texture.Fill(frame, result.CouldHaveSeen);
        frame.Raster(result.GreatestProbability, ColourMap.Probability, 0, 1, greatest: true);
        frame.Bar(ColourMap.Probability, 0, 1, "Probability");
        TrackMarks.Draw(frame, result.Lines, numbers: false);
        frame.Finish();
        return frame.Drawing;
    }

    /// <summary>Deepest burial at which the reference sphere would have stood out.</summary>
    public static Drawing CouldHaveSeen(SurveyResult result)
    {
        MapFrame frame = new(Extent.Of(result), result.Survey.Epsg, bar: true, tallest: 120);
        double deepest = result.Survey.Image.MaxBurial;
        frame.Raster(result.CouldHaveSeen, ColourMap.Burial, 0, deepest, greatest: false, above: 0);
        Texture.Fill(frame, result.CouldHaveSeen);
        frame.Bar(ColourMap.Burial, 0, deepest, "Burial, m", downwards: true);
        frame.Finish();
        return frame.Drawing;
    }

    /// <summary>Depth of the seabed below the water surface.</summary>
    public static Drawing Seabed(SurveyResult result)
    {
        MapFrame frame = new(Extent.Of(result), result.Survey.Epsg, bar: true, tallest: 120);
        (double low, double high) = Range(result.Seabed);
        Texture.Fill(frame, result.Seabed);
        frame.Raster(result.Seabed, ColourMap.Depth, low, high, greatest: false);
        frame.Bar(ColourMap.Depth, low, high, "Depth, m", downwards: true);
        frame.Finish();
        return frame.Drawing;
    }

    internal static Drawing Overview(SurveyResult result, MapFrame frame)
    {
        Texture.Fill(frame, result.CouldHaveSeen);
        TrackMarks.Draw(frame, result.Lines, numbers: true);
        TargetMarks.Draw(frame, result.Targets, new Labels(frame));
        frame.Finish();
        Legend.Draw(frame, result);
        return frame.Drawing;
    }

    private static (double Low, double High) Range(Raster raster)
    {
        float[] values = [.. raster.Values.Where(float.IsFinite)];
        if (values.Length == 0)
            return (0, 1);
        double low = values.Min(), high = values.Max();
        return high - low < 0.1 ? (low - 0.05, high + 0.05) : (low, high);
    }
}
