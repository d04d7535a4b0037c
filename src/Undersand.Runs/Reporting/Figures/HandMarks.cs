namespace Undersand.Runs.Reporting;

/// <summary>What people drew, on a map: outlines, groupings, parts, and a stroke through what they rejected.</summary>
internal static class HandMarks
{
    public static void Draw(MapFrame frame, SurveyResult result, JudgedSurvey judged) => frame.Drawing.Clip(frame.Map, () =>
    {
        foreach (HandOutline outline in judged.All<HandOutline>())
            frame.Drawing.Shape([.. outline.Corners.Select(c => frame.At(c.Easting, c.Northing))], new(Ink.Text, Tokens.Bold, 1.2), null);
        foreach (Merger merger in judged.All<Merger>())
            frame.Drawing.Path([.. merger.Others.Prepend(merger.TargetId).Select(id => result.Targets.FirstOrDefault(t => t.Id == id)).OfType<Target>().Select(t => frame.At(t.Position.Easting, t.Position.Northing))], new(Ink.Text, Tokens.Bold));
        foreach (GridPoint part in judged.All<Partition>().SelectMany(p => p.Parts))
        {
            Spot at = frame.At(part.Easting, part.Northing);
            frame.Drawing.Line(at.X - 1, at.Y, at.X + 1, at.Y, new(Ink.Text, Tokens.Bold));
            frame.Drawing.Line(at.X, at.Y - 1, at.X, at.Y + 1, new(Ink.Text, Tokens.Bold));
        }
        foreach (Target rejected in result.Targets.Where(t => judged.Current.GetValueOrDefault(t.Id)?.Verdict == Verdict.Reject))
        {
            Spot at = frame.At(rejected.Position.Easting, rejected.Position.Northing);
            frame.Drawing.Line(at.X - 2, at.Y + 2, at.X + 2, at.Y - 2, new(Ink.Text, Tokens.Bold));
        }
    });
}
