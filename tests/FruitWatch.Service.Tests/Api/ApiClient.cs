using System.Net;
using System.Text;
using System.Text.Json;
using FruitWatch.Service.Tests.Pages;

namespace FruitWatch.Service.Tests.Api;

/// <summary>A program that uses the API.</summary>
internal sealed class ApiClient(TestService service) : IDisposable
{
    private readonly HttpClient http = service.Client();

    public Task<ApiAnswer> GetAsync(string path, params (string Name, string Value)[] headers) => SendAsync("GET", path, null, headers);

    public async Task<ApiAnswer> SendAsync(string method, string path, string? body, params (string Name, string Value)[] headers)
    {
        using var request = new HttpRequestMessage(new HttpMethod(method), path);
        if (body is not null)
            request.Content = new StringContent(body, Encoding.UTF8, "application/json");
        foreach (var (name, value) in headers)
            request.Headers.TryAddWithoutValidation(name, value);
        // Whatever version there is, where a test is not about versions; an empty one leaves the field out.
        if (method is "PUT" or "DELETE" && !request.Headers.Contains("If-Match"))
            request.Headers.TryAddWithoutValidation("If-Match", "*");
        if (headers.Contains(("If-Match", "")))
            request.Headers.Remove("If-Match");
        using var response = await http.SendAsync(request);
        var text = await response.Content.ReadAsStringAsync();
        Assert.True((int)response.StatusCode < 500, $"{method} {path}: {(int)response.StatusCode}\n{text}\n{string.Join("\n", service.Faults.Told)}");
        return new ApiAnswer(
            response.StatusCode,
            text,
            response.Content.Headers.ContentType?.MediaType,
            response.Headers.ETag?.Tag,
            response.Headers.Location?.ToString());
    }

    public void Dispose() => http.Dispose();
}

/// <summary>What the API answered.</summary>
internal sealed record ApiAnswer(HttpStatusCode Status, string Text, string? Form, string? ETag, string? Location)
{
    public JsonElement Json => JsonDocument.Parse(Text).RootElement;

    /// <summary>Fields that are refused.</summary>
    public IReadOnlyList<string> Refused =>
        Json.TryGetProperty("errors", out var errors) ? [.. errors.EnumerateObject().Select(error => error.Name)] : [];
}
