;;; emacs.el --- What a person does in Emacs with a route -*- lexical-binding: t; -*-
;; One thing after another; what is seen goes to the file $OBSERVED as JSON.

(require 'eglot)
(require 'json)

(defun observed-wait (what condition)
  "Wait until CONDITION gives something and return that; end with an error that names WHAT where it never does."
  (let ((end (+ (float-time) 30)) result)
    (while (not (setq result (funcall condition)))
      (when (> (float-time) end) (error "In vain waited for %s" what))
      (accept-process-output nil 0.02))
    result))

(defun observed-go-to (text offset)
  "Put point OFFSET characters behind the first place of TEXT."
  (goto-char (point-min))
  (search-forward text)
  (goto-char (+ (match-beginning 0) offset)))

(defun observed-line ()
  (string-trim (buffer-substring-no-properties (line-beginning-position) (line-end-position))))

(defun observed-findings ()
  "Findings on the line of point."
  (flymake-diagnostics (line-beginning-position) (line-end-position)))

(defun observed-work ()
  (find-file "lanternfall.route.yaml")
  ;; Eglot connects after the command that opened the file, and no keyboard gives commands here.
  (run-hooks 'post-command-hook)
  (observed-wait "the server" #'eglot-current-server)

  (let (diagnostics mended afterwards hover completions)
    ;; A mistyped name is marked, and a code action mends it.
    (observed-go-to "- crate-vault" 7)
    (delete-region (+ (point) 4) (+ (point) 5))
    (save-buffer) ; Eglot tells of an edit when the person pauses or saves; without a keyboard there is no pause.
    (flymake-start)
    (setq diagnostics
          (mapcar (lambda (found) `((message . ,(flymake-diagnostic-text found))))
                  (observed-wait "a finding" #'observed-findings)))
    (cl-letf (((symbol-function 'completing-read) (lambda (_ choices &rest _) (caar choices)))
              (last-nonmenu-event t))
      (eglot-code-actions (point) (point) nil t))
    (setq mended (observed-line))
    (save-buffer)
    (observed-wait "the finding to go" (lambda () (null (observed-findings))))
    (setq afterwards (length (observed-findings)))

    (observed-go-to "  - tide-skip" 6)
    (eglot-hover-eldoc-function (lambda (text &rest _) (setq hover (substring-no-properties text))))
    (observed-wait "a hover" (lambda () hover))

    (let ((found (eglot-completion-at-point)))
      (setq completions (mapcar #'substring-no-properties (all-completions "" (nth 2 found)))))

    ;; Renaming edits three files after one question; writing them is the person's.
    (cl-letf (((symbol-function 'y-or-n-p) (lambda (&rest _) t)))
      (eglot-rename "tide-hop"))
    (save-some-buffers t)

    (with-temp-file (getenv "OBSERVED")
      (insert (json-encode `((diagnostics . ,(vconcat diagnostics))
                             (mended . ,mended)
                             (afterwards . ,afterwards)
                             (hover . ,hover)
                             (completions . ,(vconcat completions))))))))
(observed-work)
