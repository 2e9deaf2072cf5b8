using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using FruitWatch.Service.Web.OpenApi;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc.RazorPages;

namespace FruitWatch.Service.Pages.Api;

/// <summary>The web API for people: every operation with its fields, statuses and example. Needs no script, and nothing from elsewhere.</summary>
[AllowAnonymous]
internal sealed class IndexModel(ApiGuide guide) : PageModel
{
    private static readonly JsonSerializerOptions s_readable = new() { WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public ApiPages Pages { get; private set; } = null!;

    public async Task OnGetAsync(CancellationToken stop) => Pages = await guide.ReadAsync(stop);

    /// <summary>An example to be read: text as it stands, JSON with a line for each field.</summary>
    public static string Readable(JsonNode example) => example is JsonValue value && value.TryGetValue<string>(out var text) ? text : example.ToJsonString(s_readable);
}
