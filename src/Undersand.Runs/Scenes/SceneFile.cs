using Undersand.Simulation;
using Undersand.Storage;

namespace Undersand.Runs.Scenes;

/// <summary>A scene file read: what is there, how it is surveyed, and the seed of what is random.</summary>
/// <param name="Scene">What is there.</param>
/// <param name="Plan">How it is surveyed.</param>
/// <param name="Seed">Of everything random.</param>
/// <param name="Cautions">Fields that were not understood.</param>
public sealed record SceneFile(Scene Scene, SurveyPlan Plan, int Seed, IReadOnlyList<Caution> Cautions)
{
    /// <summary>Reads a scene; its format is docs/scene.schema.json.</summary>
    /// <param name="path">The file, as the user named it.</param>
    /// <exception cref="SurveyException">The file is missing or not a scene.</exception>
    public static SceneFile Read(string path)
    {
        List<Caution> cautions = [];
        JsonFields root = JsonFields.Read(path, path, "docs/scene.schema.json", cautions);
        Place origin = new(root);
        Scene scene = SceneReader.Scene(root, origin);
        SurveyPlan plan = PlanReader.Plan(root.NeedObject("plan"), origin, scene);
        int seed = root.Whole("seed", 0, int.MaxValue) ?? 1;
        root.CautionUnknown();
        return new SceneFile(scene, plan, seed, cautions);
    }
}
