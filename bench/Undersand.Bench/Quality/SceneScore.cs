using Undersand.Detection;
using Undersand.Imaging;
using Undersand.Imaging.Conditioning;
using Undersand.Simulation;

namespace Undersand.Bench.Quality;

/// <summary>What came of one thing of known truth.</summary>
/// <param name="Thing">The thing.</param>
/// <param name="OverClutterDb">Its peak in the image over the greatest peak of anything else 0.4–1.5 m away at like burial: the image stands in for the ideal imager.</param>
/// <param name="Found">The target at its place, or null.</param>
internal sealed record ThingScore(TrueObject Thing, double OverClutterDb, Target? Found)
{
    /// <summary>Burial of the top, found less true, metres.</summary>
    public double BurialError => Found!.BurialDepth.Value - Thing.BurialOfTop;

    /// <summary>Metres to the true middle; to the nearer of target and alternative.</summary>
    public double Off => Math.Min(Found!.Position.HorizontalDistanceTo(Thing.Centre), Found.Alternative?.HorizontalDistanceTo(Thing.Centre) ?? double.PositiveInfinity);
}

/// <summary>One scene through the whole chain.</summary>
/// <param name="Scene">The scene.</param>
/// <param name="Things">Its bodies.</param>
/// <param name="False">Targets that belong to nothing of the truth.</param>
/// <param name="SeabedSnrDb">Seabed over noise.</param>
internal sealed record SceneScore(QualityScene Scene, IReadOnlyList<ThingScore> Things, IReadOnlyList<Target> False, double SeabedSnrDb)
{
    private const double Near = 0.5, NearInBurial = 0.3;

    /// <summary>Simulates, images, detects and compares.</summary>
    public static SceneScore Of(QualityScene scene, int threads)
    {
        var simulated = scene.Run(threads);
        var parallel = new ParallelOptions { MaxDegreeOfParallelism = threads };
        var settings = new ImagingSettings();
        var scanner = new LineScanner(simulated.Survey, settings.Conditioning, parallel);
        var scans = simulated.Lines.Select(l => scanner.Scan(l)).ToList();
        var imager = new SurveyImager(simulated.Survey, scans, settings, parallel);
        var volume = imager.ImageAll();
        var detector = new Detector(simulated.Survey, volume, imager, new DetectionSettings { DegreeOfParallelism = threads });
        detector.LearnNull(null, default);
        var left = detector.Targets(null, null, default).ToList();
        var things = new List<ThingScore>();
        foreach (var thing in simulated.Truth.Objects)
        {
            var own = left.Where(t => Belongs(t, thing)).ToList();
            left.RemoveAll(own.Contains);
            if (thing.IsBody && !thing.IsDecoy)
                things.Add(new ThingScore(thing, Contrast.OverClutter(volume, thing), own.MaxBy(t => t.Probability.LogOdds)));
        }
        return new SceneScore(scene, things, left, scans.Average(s => s.Quality().SeabedSnrDb));
    }

    private static bool Belongs(Target target, TrueObject thing)
    {
        double off = Math.Min(target.Position.HorizontalDistanceTo(thing.Centre), target.Alternative?.HorizontalDistanceTo(thing.Centre) ?? double.PositiveInfinity);
        return off <= Near + 0.5 * thing.Length && Math.Abs(target.BurialDepth.Value - thing.BurialOfTop) <= NearInBurial + thing.Thickness;
    }
}
