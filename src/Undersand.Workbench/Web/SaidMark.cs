namespace Undersand.Workbench.Web;

/// <summary>What people made of a target, as map and section draw it: places are easting, northing, easting and so on.</summary>
internal sealed record SaidMark(string Verdict, double[] Outline, double[] Parts, string[] MergedWith);
