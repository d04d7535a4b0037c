using Undersand.Runs.Reporting;

namespace Undersand.Workbench.Pictures;

/// <summary>Something that is shown in colours: one quantity has one colour map and one scale wherever it is seen.</summary>
/// <param name="Name">In addresses.</param>
/// <param name="Title">For people, with its unit.</param>
/// <param name="Meaning">One sentence.</param>
/// <param name="Map">Its colours.</param>
/// <param name="Low">Value of the first colour.</param>
/// <param name="High">Value of the last colour.</param>
/// <param name="Downwards">Whether greater values are deeper, so that the legend reads downwards.</param>
internal sealed record Quantity(string Name, string Title, string Meaning, ColourMap Map, double Low, double High, bool Downwards)
{
    /// <summary>The entry for a value; 0 is transparent and means no data.</summary>
    public byte IndexOf(double value) => double.IsNaN(value) ? (byte)0 : (byte)Math.Max(1, ColourMap.IndexOf(value, Low, High));

    /// <summary>Round values along the scale, at most six.</summary>
    public IReadOnlyList<double> Ticks()
    {
        double span = High - Low, step = Math.Pow(10, Math.Floor(Math.Log10(span / 5)));
        while (span / step > 6)
            step *= span / step > 12 ? 5 : 2;
        var ticks = new List<double>();
        for (double t = Math.Ceiling(Low / step - 1e-9) * step; t <= High + 1e-9 * span; t += step)
            ticks.Add(Math.Round(t, 6) + 0.0);
        return ticks;
    }
}
