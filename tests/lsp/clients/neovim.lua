-- What a person does in Neovim with a route, one after another; what they see goes to the file $OBSERVED as JSON.
local observed = {}

local function fail(what)
  io.stderr:write(what .. "\n")
  vim.cmd("cquit 1")
end

--- Waits until `condition` gives something, and returns that.
local function wait_for(what, condition)
  local result
  local function met()
    result = condition()
    return result and true or false
  end
  if not vim.wait(30000, met, 20) then fail("In vain waited for " .. what) end
  return result
end

--- Puts the cursor `offset` bytes behind the first place of a plain text.
local function go_to(text, offset)
  for row, line in ipairs(vim.api.nvim_buf_get_lines(0, 0, -1, true)) do
    local column = line:find(text, 1, true)
    if column then
      vim.api.nvim_win_set_cursor(0, { row, column - 1 + (offset or 0) })
      return row, line
    end
  end
  fail("Not in the text: " .. text)
end

local function client()
  local get = vim.lsp.get_clients or vim.lsp.get_active_clients
  return get({ bufnr = 0 })[1]
end

vim.cmd("edit lanternfall.route.yaml")
wait_for("the server", function() return client() and client().initialized end)

-- The first request of all: Neovim draws what it brings, and asks again only when it is told to.
vim.lsp.codelens.refresh()
local lenses = wait_for("code lenses", function()
  local found = vim.lsp.codelens.get(0)
  return #found > 0 and found
end)
observed.lenses = vim.tbl_map(function(lens) return lens.command.title end, lenses)

-- A mistyped name is marked, and a code action mends it.
local row, line = go_to("- crate-vault")
vim.api.nvim_buf_set_lines(0, row - 1, row, true, { (line:gsub("crate%-vault", "crate-valt")) })
local found = wait_for("a finding", function()
  local all = vim.diagnostic.get(0, { lnum = row - 1 })
  return #all > 0 and all
end)
observed.diagnostics = vim.tbl_map(function(one) return { code = one.code, message = one.message } end, found)
vim.ui.select = function(items, _, choose) choose(items[1], 1) end
go_to("crate-valt", 2)
vim.lsp.buf.code_action()
wait_for("the edit of a code action", function()
  local now = vim.api.nvim_buf_get_lines(0, row - 1, row, true)[1]
  observed.mended = now
  return not now:find("crate-valt", 1, true)
end)
wait_for("the finding to go", function() return #vim.diagnostic.get(0, { lnum = row - 1 }) == 0 end)
observed.afterwards = #vim.diagnostic.get(0, { lnum = row - 1 })

go_to("  - tide-skip", 6)
vim.lsp.buf.hover()
observed.hover = wait_for("a hover", function()
  for _, window in ipairs(vim.api.nvim_list_wins()) do
    if vim.api.nvim_win_get_config(window).relative ~= "" then
      local lines = vim.api.nvim_buf_get_lines(vim.api.nvim_win_get_buf(window), 0, -1, true)
      vim.api.nvim_win_close(window, true)
      return table.concat(lines, "\n")
    end
  end
end)

local answers = vim.lsp.buf_request_sync(0, "textDocument/completion", vim.lsp.util.make_position_params(0, "utf-16"), 30000)
local answer = answers and answers[client().id]
if not (answer and answer.result) then fail("No completion: " .. vim.inspect(answers)) end
observed.completions = vim.tbl_map(function(item) return item.label end, answer.result.items or answer.result)

-- Renaming edits three files; writing them is the person's.
vim.lsp.buf.rename("tide-hop")
wait_for("the rename in three files", function()
  local count = 0
  for _, buffer in ipairs(vim.api.nvim_list_bufs()) do
    if vim.api.nvim_buf_is_loaded(buffer) and vim.bo[buffer].modified then
      local text = table.concat(vim.api.nvim_buf_get_lines(buffer, 0, -1, true), "\n")
      if text:find("tide-hop", 1, true) then count = count + 1 end
    end
  end
  return count == 3
end)
vim.cmd("wall")

local file = assert(io.open(vim.env.OBSERVED, "w"))
file:write(vim.json.encode(observed))
file:close()
vim.cmd("qall!")
