using Microsoft.AspNetCore.Http;

namespace Undersand.Workbench.Web;

/// <summary>What forms have in common.</summary>
internal static class Forms
{
    /// <summary>The name that whoever asks gave before, or an empty one.</summary>
    public static string Who(HttpContext? context) => Uri.UnescapeDataString(context?.Request.Cookies["who"] ?? "");

    /// <summary>Does what a form asks for and leads on; a refusal goes back to the form's page with its sentence.</summary>
    /// <param name="act">What it asks for.</param>
    /// <param name="then">Where it leads.</param>
    /// <param name="back">The form's page.</param>
    public static IResult Answer(Action act, string then, string back)
    {
        try
        {
            act();
            return Microsoft.AspNetCore.Http.Results.LocalRedirect(then);
        }
        catch (SurveyException refused)
        {
            return Microsoft.AspNetCore.Http.Results.LocalRedirect($"{back}?refused={Uri.EscapeDataString(refused.Message)}");
        }
    }
}
