using Undersand.Detection;
using Undersand.Imaging;
using Undersand.Imaging.Conditioning;

namespace Undersand.Runs.Processing;

/// <summary>Puts together what a run found out.</summary>
internal sealed class ResultAssembler(
    Survey survey, IReadOnlyList<LineScan> scans, SurveyImager imager, Detector detector, ResultMaps maps, IReadOnlyList<TargetView> views,
    IReadOnlyList<Caution> cautions, IReadOnlyList<ProcessingStep> steps)
{
    public SurveyResult Assemble(IReadOnlyList<Target> targets, double referenceDiameter) => new()
    {
        Survey = survey,
        Lines = scans.Select(Line).ToList(),
        Grid = imager.Grid,
        Targets = targets,
        Views = views,
        Seabed = Seabed(),
        GreatestProbability = maps.GreatestProbability,
        BurialOfGreatest = maps.BurialOfGreatest,
        CouldHaveSeen = maps.CouldHaveSeen,
        ReferenceDiameter = referenceDiameter,
        NullTails = detector.Tails,
        CellVolume = detector.CellVolume,
        NewestPing = scans.Max(s => Enumerable.Range(0, s.Reader.Line.PingCount).Max(p => s.Reader.Line.PingAt(p).Time)),
        Cautions = cautions,
        Steps = [.. steps],
    };

    /// <summary>What a scan found out about a line.</summary>
    public static LineResult Line(LineScan scan)
    {
        var line = scan.Reader.Line;
        return new LineResult(line.Name, scan.Quality(), Enumerable.Range(0, line.PingCount).Select(p =>
        {
            var ping = line.PingAt(p);
            return new PingResult(ping.Number, ping.Time, ping.Source, Known(scan.SeabedDepth[p]), scan.IsUsable(p), Known(scan.SeabedSnr[p]));
        }).ToList());

        static double? Known(double value) => double.IsFinite(value) ? value : null;
    }

    /// <summary>The common seabed, only where something was imaged: elsewhere it is extrapolated.</summary>
    private Raster Seabed()
    {
        var common = imager.Seabed.Common;
        var seen = maps.CouldHaveSeen;
        var values = (float[])common.Values.Clone();
        for (int y = 0; y < common.CountY; y++)
            for (int x = 0; x < common.CountX; x++)
            {
                int i = (int)Math.Round((common.OriginEasting + x * common.Spacing - seen.OriginEasting) / seen.Spacing);
                int j = (int)Math.Round((common.OriginNorthing + y * common.Spacing - seen.OriginNorthing) / seen.Spacing);
                if (i < 0 || j < 0 || i >= seen.CountX || j >= seen.CountY || float.IsNaN(seen.Values[j * seen.CountX + i]))
                    values[y * common.CountX + x] = float.NaN;
            }
        return common with { Values = values };
    }
}
