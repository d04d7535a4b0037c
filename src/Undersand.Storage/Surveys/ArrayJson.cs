namespace Undersand.Storage.Surveys;

/// <summary>array.json: where the transducers sit on the vehicle, and how they respond.</summary>
internal static class ArrayJson
{
    public const string FileName = "array.json";

    public static ArrayDescription Read(string folder, List<Caution> cautions)
    {
        JsonFields root = JsonFields.Read(Path.Combine(folder, FileName), FileName, "docs/survey-folder.md", cautions);
        IReadOnlyList<BodyOffset> sources = root.LeverArms("sources"), receivers = root.LeverArms("receivers");
        IReadOnlyList<double> gains = root.Numbers("channel_gains_db");
        if (gains.Count > 0 && gains.Count != receivers.Count)
            throw root.Wrong("channel_gains_db", $"there are {gains.Count} gains for {receivers.Count} receivers", "give one gain a receiver, in the order of their numbers");
        BeamPoint[] beam = [.. root.Rows("beam_pattern", 2).Select(row => new BeamPoint(Angle.FromDegrees(row[0]), row[1])).OrderBy(point => point.Angle.Radians)];
        if (beam.Any(point => point.Angle.Degrees is < 0 or > 180))
            throw root.Wrong("beam_pattern", "an angle lies outside 0 to 180 degrees", "count angles from straight down");
        if (sources.Count > 1)
            cautions.Add(new Caution(FileName, $"There are {sources.Count} sources; the first was used for each ping."));
        root.CautionUnknown();
        return new ArrayDescription(sources, receivers, gains, beam);
    }
}
