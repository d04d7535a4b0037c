namespace Undersand.Simulation;

/// <summary>All that is prepared once for a scene and a plan; shared by threads.</summary>
internal sealed class SceneModel
{
    public SceneModel(Scene scene, SurveyPlan plan, int seed)
    {
        (Scene, Plan) = (scene, plan);
        ClutterReach = 2.2 + 1.3 * plan.Height;
        double margin = Math.Max(ClutterReach, SeabedEcho.ReachFor(plan.Height * 1.5)) + 1.5;
        Region flown = Flown(plan).Grown(margin), region = With(flown, scene.Objects);
        Grid = new TimeGrid(plan);
        Beam = BeamGain.Of(plan.Array.BeamPattern);
        Seafloor = new Seafloor(scene.Seabed, region, seed);
        Path = new FermatPath(Seafloor, scene.Water, scene.Sediment, Beam);
        Scatterers = new Scatterers(scene, Seafloor, Grid, plan.Waveform.HighFrequency);
        Clutter = new ClutterField(scene.Clutter, flown, Seafloor, seed);
        Layers = [.. scene.Layers.Select(l => new LayerEcho(l, Seafloor, Path, scene.Water, scene.Sediment))];
    }

    public Scene Scene { get; }
    public SurveyPlan Plan { get; }
    public TimeGrid Grid { get; }
    public BeamGain? Beam { get; }
    public Seafloor Seafloor { get; }
    public FermatPath Path { get; }
    public Scatterers Scatterers { get; }
    public ClutterField Clutter { get; }
    public IReadOnlyList<LayerEcho> Layers { get; }

    /// <summary>Horizontal distance beyond which clutter is left out, metres; it fades over the last quarter.</summary>
    public double ClutterReach { get; }

    private static Region Flown(SurveyPlan plan)
    {
        Region all = new(double.MaxValue, double.MinValue, double.MaxValue, double.MinValue);
        foreach (PlannedLine line in plan.Lines)
        {
            all = Holding(all, line.StartEasting, line.StartNorthing);
            all = Holding(all, line.StartEasting + line.Length * Math.Sin(line.Heading.Radians), line.StartNorthing + line.Length * Math.Cos(line.Heading.Radians));
        }
        return all;
    }

    /// <summary>Objects far beyond the lines need no seabed of their own; its edge goes on.</summary>
    private static Region With(Region region, IReadOnlyList<SceneObject> objects)
    {
        Region most = region.Grown(3);
        foreach (SceneObject o in objects)
            if (o.Easting > most.MinEasting && o.Easting < most.MaxEasting && o.Northing > most.MinNorthing && o.Northing < most.MaxNorthing)
                region = Holding(region, o.Easting, o.Northing);
        return region;
    }

    private static Region Holding(Region r, double e, double n) =>
        new(Math.Min(r.MinEasting, e), Math.Max(r.MaxEasting, e), Math.Min(r.MinNorthing, n), Math.Max(r.MaxNorthing, n));
}
